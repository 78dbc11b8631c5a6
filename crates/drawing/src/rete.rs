use instrument::{LineId, Part, Point};
use sky::Angle;

use crate::contour::Contour;
use crate::date_ring;
use crate::frame::Frame;
use crate::label_box::LabelBox;
use crate::pen::Pen;
use crate::piece::Piece;
use crate::pointer::{Pointer, blades, type_size};
use crate::scene::{Group, Layer, Metal, Region, Weight};

/// The rete: outer ring, ecliptic ring, bars, the arc of the equator, and the star
/// pointers that grow from them.
pub(crate) fn rete(mut pen: Pen<'_>) -> Group {
    let instrument = pen.instrument;
    engrave(&mut pen);
    let title = "the rete, with the ecliptic and its star pointers".to_owned();
    pen.finish("rete", Part::Rete, title, instrument.rete_centre())
}

/// Puts down the rete's metal, as overlapping regions, and what is engraved on it, and
/// tells where each star has its pointer.
pub(crate) fn engrave(pen: &mut Pen<'_>) -> Vec<Pointer> {
    let instrument = pen.instrument;
    let rete = instrument.rete();
    let (frame, blades, made_way) = blades(pen, Frame::of(pen));
    pen.thins(made_way);

    let mut regions = frame.regions();
    regions.extend(blades.iter().flat_map(|blade| blade.regions.clone()));
    pen.stands_on(&regions);
    pen.edge(&Contour::circle(Point::POLE, pen.measures.hole));
    pen.fill(Metal::Rete, Layer::Cut, regions);
    almuri(pen, rete.almuri());
    frame.engrave_bosses(pen);
    // Lines before letters, which keep clear of them.
    for blade in &blades {
        blade.keep_free(pen);
        blade.draw(pen);
    }
    if instrument.specification().date_from.is_ring() {
        date_ring::engrave(pen);
    }
    if type_size(pen).is_none() {
        pen.unlettered("names of the stars");
    }
    frame.ecliptic.engrave(pen, &rete);
    blades
        .into_iter()
        .map(|blade| blade.letter(pen, &frame))
        .collect()
}

/// The almuri: a dark tooth whose tip reads on the limb.
fn almuri(pen: &mut Pen<'_>, direction: Angle) {
    let m = pen.measures;
    let tip = Point::polar(m.plate, direction);
    let length = (0.03 * m.mater).max(1.1);
    let base = tip * ((m.plate - length) / m.plate);
    let half = Point::polar(1.0, direction).perpendicular() * (length * 0.36);
    let outline = Contour::closed(
        base - half,
        vec![
            // What is blackened ends short of the metal's edge, by half of a fine line.
            Piece::Line {
                to: tip - Point::polar(m.hair / 2.0, direction),
            },
            Piece::Line { to: base + half },
        ],
    );
    pen.keep_free(LabelBox::new(
        pen.drawn(tip - Point::polar(length / 2.0, direction)),
        length,
        length,
        pen.direction(tip),
    ));
    pen.fill(Metal::Dark, Layer::Engrave, vec![Region::whole(outline)]);
    pen.line(LineId::Almuri, Weight::Hair, &[Contour::line(base, tip)]);
}
