use base64::Engine as _;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use desk::{Cabinet, CastRequest, WithInstrument, WorkRequest};
use press::{Code, TooLong};

/// No address is longer; what is would leave a code no room for an instrument.
const LONGEST: usize = 200;

/// Where others can open the page: an address of the web, to which links are made that carry
/// a case and an instrument.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PageAddress(String);

impl PageAddress {
    /// The address that a text is.
    ///
    /// # Errors
    /// When it is none that a link can be made to; in words, for a person.
    pub fn parse(text: &str) -> Result<PageAddress, String> {
        let address = text.trim();
        let rest = ["https://", "http://"]
            .into_iter()
            .find_map(|scheme| address.strip_prefix(scheme));
        let has_host = rest.is_some_and(|rest| rest.starts_with(|c: char| c.is_alphanumeric()));
        let is_plain = address.chars().all(|c| c.is_ascii_graphic() && c != '#');
        if has_host && is_plain && address.len() <= LONGEST {
            return Ok(PageAddress(address.to_owned()));
        }
        let shown: String = address.chars().take(60).collect();
        Err(format!(
            "“{shown}” is no address of a page; https://example.org/almuri/ would do, with no # \
             and no longer than {LONGEST} characters"
        ))
    }

    /// The code of a link to a case, with its instrument.
    ///
    /// # Errors
    /// When the instrument's specification is longer than a code holds.
    pub fn code_of(&self, case: &CastRequest, cabinet: &Cabinet) -> Result<Code, TooLong> {
        Code::of(&self.link(&parameters(case, cabinet)))
    }

    /// The code of a link to how an instrument is set now in a place; none where it does not
    /// serve the place, and nobody could set it there.
    ///
    /// # Errors
    /// When the case cannot be cast, or as [`PageAddress::code_of`]; in words, for a person.
    pub fn code_now(
        &self,
        case: CastRequest,
        cabinet: &Cabinet,
        now_unix_s: Option<f64>,
    ) -> Result<Option<Code>, String> {
        let case = CastRequest {
            when: "now".to_owned(),
            ..case
        };
        let answer = desk::cast(&case, cabinet, now_unix_s).map_err(|why| why.to_string())?;
        if answer.reading.is_none() {
            return Ok(None);
        }
        let code = self.code_of(&case, cabinet);
        code.map(Some).map_err(|why| why.to_string())
    }

    /// The code of a link to something that is worked; none where it is of no moment and
    /// place, or of the moment at which it is asked, which has passed when it is opened.
    ///
    /// # Errors
    /// As [`PageAddress::code_of`].
    pub fn code_of_work(
        &self,
        work: &WorkRequest,
        cabinet: &Cabinet,
    ) -> Result<Option<Code>, TooLong> {
        let case = &work.moment;
        if case.at.is_empty() || case.when.is_empty() || case.when.trim() == "now" {
            return Ok(None);
        }
        let mut parameters = parameters(case, cabinet);
        // Casting is what is worked unless something else is said.
        if work.operation != "cast" {
            let mut put = |name: &str, value: &str| {
                parameters.push((name.to_owned(), value.to_owned()));
            };
            put("work", &work.operation);
            let hand = work.hand.map(|hand| hand.to_string());
            for (name, value) in [
                ("work.star", &work.star),
                ("work.body", &work.body),
                ("work.hand", &hand),
                ("work.side", &work.side),
                ("work.of", &work.of),
            ] {
                if let Some(value) = value {
                    put(name, value);
                }
            }
            for (kind, all) in [("seen", &work.seen), ("told", &work.told)] {
                for (what, value) in all {
                    put(&format!("work.{kind}.{what}"), value);
                }
            }
        }
        Code::of(&self.link(&parameters)).map(Some)
    }

    fn link(&self, parameters: &[(String, String)]) -> String {
        let parameters = form_urlencoded::Serializer::new(String::new())
            .extend_pairs(parameters)
            .finish();
        format!("{}#{parameters}", self.0)
    }
}

/// A case as the page reads it from the end of its address.
fn parameters(case: &CastRequest, cabinet: &Cabinet) -> Vec<(String, String)> {
    let mut all = vec![("when", case.when.clone()), ("at", case.at.clone())];
    for (name, value) in [
        ("zone", &case.zone),
        ("clock", &case.clock),
        ("calendar", &case.calendar),
        ("which", &case.which),
        ("houses", &case.houses),
        ("by", &case.by),
        ("sun", &case.sun),
        ("plates", &case.plates),
    ] {
        all.extend(value.clone().map(|value| (name, value)));
    }
    match &case.with {
        None => {}
        Some(WithInstrument::Specification(text)) => all.push(("brass", packed(text))),
        Some(WithInstrument::Named(name)) => match cabinet.own_text(name) {
            // Whoever opens the link has what comes with the program, and nothing else.
            Some(text) => all.push(("brass", packed(text))),
            None => all.push(("with", name.clone())),
        },
    }
    let owned = all
        .into_iter()
        .map(|(name, value)| (name.to_owned(), value));
    owned.collect()
}

/// A specification packed (RFC 1951) and written in the letters of RFC 4648, section 5.
fn packed(specification: &str) -> String {
    let bytes = miniz_oxide::deflate::compress_to_vec(specification.as_bytes(), 9);
    URL_SAFE_NO_PAD.encode(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_of_the_web_is_taken_and_nothing_else() {
        for good in [
            "https://example.org/almuri/",
            " http://192.168.1.7:8080 ",
            "https://example.org/a/index.html?x=1",
        ] {
            assert!(PageAddress::parse(good).is_ok(), "{good}");
        }
        let long = format!("https://example.org/{}", "a".repeat(200));
        for bad in [
            "",
            "example.org",
            "https://",
            "https:///x",
            "ftp://example.org",
            "https://example.org/#x",
            "https://example.org/a b",
            &long,
        ] {
            let why = PageAddress::parse(bad).expect_err(bad);
            assert!(
                why.contains("https://example.org/almuri/ would do"),
                "{why}"
            );
        }
    }

    #[test]
    fn a_link_carries_case_and_brass() {
        let address = PageAddress::parse("https://example.org/almuri/").expect("an address");
        let cabinet = Cabinet::built_in();
        let mut case = CastRequest {
            when: "now".to_owned(),
            at: "A Coruña, Galicia, Spain".to_owned(),
            with: Some(WithInstrument::Named("class instrument".to_owned())),
            ..CastRequest::default()
        };
        let code = address.code_of(&case, &cabinet).expect("short");
        assert_eq!(
            code.text(),
            "https://example.org/almuri/#when=now&at=A+Coru%C3%B1a%2C+Galicia%2C+Spain&with=class+instrument"
        );
        let specification = "version = 1\nname = \"invented\"\n";
        case.with = Some(WithInstrument::Specification(specification.to_owned()));
        let code = address.code_of(&case, &cabinet).expect("short");
        let (_, brass) = code.text().split_once("&brass=").expect("packed");
        assert!(
            brass
                .bytes()
                .all(|c| c.is_ascii_alphanumeric() || c == b'-' || c == b'_'),
            "{brass}"
        );
    }

    #[test]
    fn what_is_worked_is_linked_to_unless_it_is_of_no_moment() {
        let address = PageAddress::parse("https://example.org/").expect("an address");
        let cabinet = Cabinet::built_in();
        let mut work = WorkRequest {
            operation: "hour-by-sun".to_owned(),
            moment: CastRequest {
                when: "2024-05-14 10:20".to_owned(),
                at: "42.88,-8.54".to_owned(),
                ..CastRequest::default()
            },
            side: Some("morning".to_owned()),
            ..WorkRequest::default()
        };
        work.seen.insert("altitude".to_owned(), "32°30′".to_owned());
        let code = address.code_of_work(&work, &cabinet).expect("short");
        assert_eq!(
            code.expect("of a moment").text(),
            "https://example.org/#when=2024-05-14+10%3A20&at=42.88%2C-8.54\
             &work=hour-by-sun&work.side=morning&work.seen.altitude=32%C2%B030%E2%80%B2"
        );
        for when in ["", "now"] {
            work.moment.when = when.to_owned();
            assert_eq!(address.code_of_work(&work, &cabinet), Ok(None), "{when}");
        }
    }
}
