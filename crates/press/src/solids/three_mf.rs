use std::fmt::Write as _;

use super::mesh::Mesh;
use crate::archive::{Packing, archive};

/// A surface as 3MF (3MF core specification 1.3, ISO/IEC 25422): a package with a model in
/// millimetres.
pub(super) fn three_mf(mesh: &Mesh, title: &str, instrument: &str) -> Option<Vec<u8>> {
    let model = model(mesh, title, instrument);
    let files = [
        ("[Content_Types].xml", CONTENT_TYPES),
        ("_rels/.rels", RELATIONSHIPS),
        ("3D/3dmodel.model", &model),
    ];
    archive(files, Packing::Deflated)
}

const CONTENT_TYPES: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\">\
<Default Extension=\"rels\" ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>\
<Default Extension=\"model\" ContentType=\"application/vnd.ms-package.3dmanufacturing-3dmodel+xml\"/>\
</Types>\n";

const RELATIONSHIPS: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">\
<Relationship Target=\"/3D/3dmodel.model\" Id=\"rel0\" \
Type=\"http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel\"/>\
</Relationships>\n";

fn model(mesh: &Mesh, title: &str, instrument: &str) -> String {
    let mut xml = String::with_capacity(64 * mesh.triangles.len());
    // What is laid on a machine's bed lies where no coordinate is negative.
    let ([x, y, z], _) = mesh.bounds_mm();
    let [x, y, z] = [x, y, z].map(|least| (-least).max(0.0) + 0.0);
    // Nothing fails that is written into a text.
    let _ = write!(
        xml,
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <model unit=\"millimeter\" xml:lang=\"en-US\" \
         xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\">\n\
         <metadata name=\"Title\">{instrument}: {title}</metadata>\n\
         <resources>\n<object id=\"1\" type=\"model\" name=\"{title}\">\n<mesh>\n<vertices>\n",
        title = escaped(title),
        instrument = escaped(instrument),
    );
    for corner in 0..mesh.corners.len() {
        let [x, y, z] = mesh.place_mm(u32::try_from(corner).unwrap_or(u32::MAX));
        let _ = writeln!(xml, "<vertex x=\"{x}\" y=\"{y}\" z=\"{z}\"/>");
    }
    xml.push_str("</vertices>\n<triangles>\n");
    for [a, b, c] in &mesh.triangles {
        let _ = writeln!(xml, "<triangle v1=\"{a}\" v2=\"{b}\" v3=\"{c}\"/>");
    }
    let _ = write!(
        xml,
        "</triangles>\n</mesh>\n</object>\n</resources>\n<build>\n\
         <item objectid=\"1\" transform=\"1 0 0 0 1 0 0 0 1 {x} {y} {z}\"/>\n</build>\n</model>\n"
    );
    xml
}

fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            other if other.is_control() => out.push(' '),
            other => out.push(other),
        }
    }
    out
}
