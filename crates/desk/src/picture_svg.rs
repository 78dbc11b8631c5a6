use drawing::escaped;

/// A mark and how far it is off, in pixels.
pub(crate) struct Arrow {
    /// Where it should be.
    pub(crate) from: [f64; 2],
    /// From there to where it is.
    pub(crate) apart: [f64; 2],
    /// What it is.
    pub(crate) of: String,
    /// Whether it is as it should be.
    pub(crate) good: bool,
}

/// What is drawn over a picture: lines, and how far marks are off, enlarged. One unit is a
/// pixel, and the ground is left free.
pub(crate) struct Overlay<'a> {
    pub(crate) size_px: [u32; 2],
    pub(crate) title: &'a str,
    /// Rows of places; of a point one place.
    pub(crate) lines: Vec<(&'a str, &'a [Vec<[f64; 2]>])>,
    pub(crate) arrows: Vec<Arrow>,
}

/// By how much what is off may be enlarged.
const TIMES: [u32; 7] = [1, 2, 5, 10, 20, 50, 100];

impl Overlay<'_> {
    /// By how much what is off is enlarged: so that as a rule it is a fiftieth of the breadth.
    pub(crate) fn times(&self) -> u32 {
        let mut off: Vec<f64> = self
            .arrows
            .iter()
            .map(|one| one.apart[0].hypot(one.apart[1]))
            .collect();
        off.sort_by(f64::total_cmp);
        let middle = off.get(off.len() / 2).copied().unwrap_or(0.0).max(1e-6);
        let room = f64::from(self.size_px[0]) / 50.0;
        let mut fitting = TIMES.into_iter().rev();
        let fits = fitting.find(|times| f64::from(*times) * middle <= room);
        fits.unwrap_or(1)
    }

    pub(crate) fn svg(&self) -> String {
        let [breadth, height] = self.size_px;
        let hair = f64::from(breadth) / 1500.0;
        let mut svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {breadth} {height}\" \
             role=\"img\"><title>{}</title>\n",
            escaped(self.title)
        );
        // The middle of the first pixel lies half a pixel from the edge.
        svg.push_str("<g transform=\"translate(0.5 0.5)\" fill=\"none\">\n");
        for (of, pieces) in &self.lines {
            for piece in *pieces {
                match piece.as_slice() {
                    [] => {}
                    [[x, y]] => svg.push_str(&format!(
                        "<circle class=\"found\" cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"{:.1}\" \
                         stroke=\"#0a7d8c\" stroke-width=\"{hair:.2}\"><title>{}</title></circle>\n",
                        4.0 * hair,
                        escaped(of)
                    )),
                    places => {
                        let path: Vec<String> =
                            places.iter().map(|[x, y]| format!("{x:.1} {y:.1}")).collect();
                        svg.push_str(&format!(
                            "<path class=\"found\" d=\"M{}\" stroke=\"#0a7d8c\" \
                             stroke-width=\"{hair:.2}\"><title>{}</title></path>\n",
                            path.join("L"),
                            escaped(of)
                        ));
                    }
                }
            }
        }
        let times = f64::from(self.times());
        for one in &self.arrows {
            let [x, y] = one.from;
            let [right, down] = one.apart.map(|part| part * times);
            let (class, colour) = if one.good {
                ("good", "#1d6b34")
            } else {
                ("off", "#c8321e")
            };
            svg.push_str(&format!(
                "<g class=\"{class}\" stroke=\"{colour}\" stroke-width=\"{:.2}\"><title>{}: {:.1} px</title>\
                 <circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"{:.1}\" fill=\"{colour}\"/>\
                 <path d=\"M{x:.1} {y:.1}l{right:.1} {down:.1}\"/></g>\n",
                2.0 * hair,
                escaped(&one.of),
                one.apart[0].hypot(one.apart[1]),
                2.0 * hair
            ));
        }
        svg.push_str("</g>\n</svg>\n");
        svg
    }
}

/// A drawing over a picture with the picture beneath it, by its address: a file's name, or the
/// picture itself as a data address.
#[must_use]
pub fn over_picture(drawing: &str, address: Option<&str>) -> String {
    let (Some(address), Some((head, rest))) = (address, drawing.split_once("</title>\n")) else {
        return drawing.to_owned();
    };
    format!(
        "{head}</title>\n<image href=\"{}\" width=\"100%\" height=\"100%\" \
         preserveAspectRatio=\"none\"/>\n{rest}",
        escaped(address)
    )
}
