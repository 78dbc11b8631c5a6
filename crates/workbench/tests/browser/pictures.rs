//! The pictures of docs/screenshots: the first screen, a step of the working, the
//! shares, an operation and correcting, and what lies further down the page, from a telephone to a 4K screen.

use std::path::Path;

use crate::bench::{Bench, DEMONSTRATION};
use crate::webdriver::Browser;

const SIZES: [(u32, u32); 4] = [(360, 740), (768, 1024), (1440, 900), (3840, 2160)];

#[test]
#[ignore = "writes the icons of an installed page; run it when favicon.svg has changed"]
fn icons() {
    let page = Path::new(env!("CARGO_MANIFEST_DIR")).join("page");
    let drawing = std::fs::read_to_string(page.join("favicon.svg")).unwrap();
    let browser = Browser::start(800, 600);
    // A system may cut an icon to a shape of its own, of which four fifths are safe (W3C,
    // Web Application Manifest, “maskable”).
    for (name, size, part) in [
        ("192", 192, 1.0),
        ("512", 512, 1.0),
        ("512-maskable", 512, 0.8),
    ] {
        let script = format!(
            "const done = arguments[arguments.length - 1]; \
             const image = new Image(); \
             image.onload = () => {{ \
               const canvas = Object.assign(document.createElement('canvas'), {{ width: {size}, height: {size} }}); \
               const pen = canvas.getContext('2d'); \
               if ({part} < 1) {{ pen.fillStyle = '#f6f1e4'; pen.fillRect(0, 0, {size}, {size}); }} \
               const wide = {size} * {part}; \
               pen.drawImage(image, ({size} - wide) / 2, ({size} - wide) / 2, wide, wide); \
               done(canvas.toDataURL('image/png').split(',')[1]); \
             }}; \
             image.src = 'data:image/svg+xml,' + encodeURIComponent({});",
            serde_json::json!(drawing)
        );
        let picture = browser.run_async(&script);
        let bytes = decoded(picture.as_str().unwrap());
        std::fs::write(page.join(format!("icons/{name}.png")), bytes).unwrap();
    }
}

#[test]
#[ignore = "writes docs/screenshots; run it when the page has changed its look"]
fn pictures() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/screenshots");
    std::fs::create_dir_all(&folder).unwrap();
    for (width, height) in SIZES {
        let bench = Bench::at(width, height, &DEMONSTRATION);
        let browser = &bench.browser;
        let quality = if width > 2000 { 60 } else { 82 };
        let keep = |name: &str| {
            let path = folder.join(format!("{name}-{width}.jpg"));
            std::fs::write(path, decoded(&browser.picture(quality))).unwrap();
        };
        browser.run_async("document.fonts.ready.then(arguments[0])");
        keep("first-screen");
        // The ascendant's degree is turned back onto unequal-hour line 8, cusp II read.
        browser.click(".steps li:nth-child(9) button");
        bench.settled();
        std::thread::sleep(std::time::Duration::from_millis(400));
        keep("step");
        browser.run("document.activeElement.blur()");
        bench.asking(|browser| browser.write(".reads tr:first-child input", "29 Gemini\u{e007}"));
        browser.click(".why-one:first-child summary");
        browser.run("document.querySelector('.why-one').scrollIntoView({ block: 'center' })");
        std::thread::sleep(std::time::Duration::from_millis(400));
        keep("shares");
        // The treatise's right way and its rough one, side by side.
        bench.asking(|browser| browser.write(".reads tr:first-child input", "\u{e003}\u{e007}"));
        browser.choose("#operation", "rising-degree-of-planet");
        browser.wait("return document.querySelectorAll('.found').length > 0");
        browser.run("scrollTo(0, 0)");
        browser.click(".steps li:nth-child(7) button");
        bench.settled();
        browser.run("scrollTo(0, 0)");
        browser.run("document.querySelector('.found:last-child summary').click()");
        let top = if width < 720 { "#findings" } else { "#working" };
        scroll_to(browser, top);
        keep("operation");
        browser.choose("#operation", "");
        browser.run("document.querySelector('#correcting .fold').click()");
        browser.run("document.querySelector('#invented').click()");
        browser.wait("return document.querySelector('#verdict').dataset.verdict === 'slips'");
        scroll_to(
            browser,
            if width < 720 {
                "#verdict"
            } else {
                "#correcting"
            },
        );
        keep("correcting");
    }
    let bench = Bench::at(1440, 900, &DEMONSTRATION);
    let browser = &bench.browser;
    let keep = |name: &str| {
        std::thread::sleep(std::time::Duration::from_millis(400));
        std::fs::write(folder.join(name), decoded(&browser.picture(82))).unwrap();
    };
    for (leaf, shown) in [("figure", ".drawn svg"), ("workshop", ".glass-sheet svg")] {
        browser.run(&format!(
            "[...document.querySelectorAll('#contents button')] \
                 .find((one) => one.textContent === document.querySelector('#{leaf} .fold').textContent).click()"
        ));
        browser.wait(&format!("return document.querySelector('{shown}')"));
        browser.run(&format!(
            "document.querySelector('#{leaf}').scrollIntoView()"
        ));
        keep(&format!("{leaf}-1440.jpg"));
        bench.go(&DEMONSTRATION);
    }
    browser.click("#workshop .fold");
    browser.wait("return document.querySelector('.glass-sheet svg')");
    browser.click("#spec-own > summary");
    browser.wait("return document.querySelector('.spec-drawn svg')");
    browser.run(
        "const groups = document.querySelectorAll('.spec-group'); groups[0].open = false; groups[2].open = true",
    );
    browser.choose("#field-parts-tracery", "lancet");
    browser.wait(
        "return document.querySelector('.spec-drawn .own-front').dataset.drawn.includes('lancet')",
    );
    browser.run("document.querySelector('#spec-own').scrollIntoView()");
    keep("specification-1440.jpg");
    bench.go(&DEMONSTRATION);
    browser.click("#times .fold");
    browser.write("#until", "10:00");
    browser.write("#rising-degree", "11 Pisces");
    for ask in ["#uncertain-ask", "#revolution-ask", "#rising-ask"] {
        browser.click(ask);
    }
    browser.wait("return document.querySelectorAll('.time-told > *').length > 4");
    browser.run("document.querySelector('#times').scrollIntoView()");
    keep("times-1440.jpg");
    bench.go(&DEMONSTRATION);
    browser.click("#teaching .fold");
    browser.click("#class-example");
    browser.run("document.querySelector('#teaching').scrollIntoView()");
    keep("teaching-1440.jpg");
    bench.go(&DEMONSTRATION);
    browser.click("#workshop .fold");
    browser.wait("return document.querySelector('.glass-sheet svg')");
    browser.click("#examine-example");
    browser.wait("return document.querySelector('#work-with')");
    browser.run("document.querySelector('#examined').scrollIntoView()");
    keep("examined-1440.jpg");
    bench.go(&DEMONSTRATION);
    keep_a_case(&bench);
    browser.run("document.querySelector('#today').scrollIntoView()");
    keep("casebook-1440.jpg");
    bench.go(&DEMONSTRATION);
    browser.run("localStorage.setItem('almuri-surroundings', 'dark')");
    bench.go(&DEMONSTRATION);
    browser.click(".steps li:nth-child(6) button");
    bench.settled();
    keep("dark-1440.jpg");
    browser.run("localStorage.setItem('almuri-surroundings', 'light')");
    bench.go(&DEMONSTRATION);
    browser.click(".steps li:nth-child(3) button");
    bench.settled();
    keep("back-1440.jpg");
    browser.run("localStorage.setItem('almuri-surroundings', 'dark')");
    bench.go(&DEMONSTRATION);
    browser.click("#show");
    browser.keys(
        "body",
        "\u{e00f}\u{e00f}\u{e00f}\u{e00f}\u{e00f}\u{e00f}\u{e00f}",
    );
    bench.settled();
    keep("showing-1440.jpg");
    browser.click("#end-showing");
    browser.run("localStorage.setItem('almuri-surroundings', 'light')");
    bench.go(&DEMONSTRATION);
    browser.cdp(
        "Emulation.setDeviceMetricsOverride",
        serde_json::json!({ "width": 794, "height": 1123, "deviceScaleFactor": 1, "mobile": false }),
    );
    browser.cdp(
        "Emulation.setEmulatedMedia",
        serde_json::json!({ "media": "print" }),
    );
    keep("print.jpg");
}

/// Brings an element to the top of the window, and lets it rest there.
fn scroll_to(browser: &Browser, selector: &str) {
    browser.run("document.activeElement.blur()");
    browser.run_with(
        "document.querySelector(arguments[0]).scrollIntoView({ block: 'start' })",
        &serde_json::json!([selector]),
    );
    std::thread::sleep(std::time::Duration::from_millis(400));
}

/// A case of an invented pupil in the casebook, for the picture.
fn keep_a_case(bench: &Bench) {
    let browser = &bench.browser;
    browser.click("#open-casebook");
    bench.asking(|browser| browser.write(".reads tr:first-child input", "29 Gemini\u{e007}"));
    browser.write("#case-name", "Spring class, invented");
    browser.write("#case-tags", "class");
    browser.write("#case-reader", "an invented pupil");
    browser.click("#keep-new");
    browser.wait("return document.querySelectorAll('.cases li').length === 1");
    browser.wait("return document.querySelectorAll('#today li').length >= 2");
}

/// Base64, as the protocol gives pictures.
pub(crate) fn decoded(text: &str) -> Vec<u8> {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let (mut bytes, mut bits, mut held) = (Vec::new(), 0, 0_u32);
    for letter in text.bytes() {
        let Some(value) = LETTERS.iter().position(|one| *one == letter) else {
            continue;
        };
        held = (held << 6) | u32::try_from(value).unwrap();
        bits += 6;
        if bits >= 8 {
            bits -= 8;
            bytes.push(u8::try_from((held >> bits) & 0xff).unwrap());
        }
    }
    bytes
}
