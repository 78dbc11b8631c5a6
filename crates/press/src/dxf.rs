use std::fmt::{Display, Write};

use drawing::{Contour, Piece};
use instrument::Point;
use sky::Angle;

use crate::ink::Inked;
use crate::number::decimal;
use crate::work::Work;

/// Curves are followed by arcs that leave them by no more than this.
const WITHIN_MM: f64 = 0.001;

/// Handles of what every file has; the entities follow.
const MODEL: u32 = 0x1F;
const PAPER: u32 = 0x1B;
const FIRST_ENTITY: u32 = 0x100;

/// A workpiece as DXF, release 2010 (AC1024), in millimetres, y upwards.
///
/// Circles are CIRCLE, arcs ARC, straight lines LINE; edges of several pieces, such as
/// what is cut and the outlines of letters, are LWPOLYLINE whose bulges are true arcs.
/// Entities stand in the order of work, as machines take them.
/// The same workpiece always gives the same bytes.
#[must_use]
pub fn dxf(inked: &Inked) -> String {
    let mut writer = Writer {
        out: String::with_capacity(1 << 16),
        next: FIRST_ENTITY,
    };
    let mut entities = Writer {
        out: String::with_capacity(1 << 16),
        next: FIRST_ENTITY,
    };
    for work in Work::ALL {
        for ink in inked.on(work) {
            for contour in &ink.contours {
                entities.contour(contour, work.name());
            }
        }
    }
    writer.header(inked, entities.next);
    writer.tables();
    writer.blocks();
    writer.section("ENTITIES");
    writer.out.push_str(&entities.out);
    writer.pair(0, "ENDSEC");
    writer.objects();
    writer.pair(0, "EOF");
    writer.out
}

struct Writer {
    out: String,
    next: u32,
}

impl Writer {
    fn pair(&mut self, code: u16, value: impl Display) {
        // Writing to a String cannot fail.
        let _ = writeln!(self.out, "{code:>3}\n{value}");
    }

    fn handle(&mut self, code: u16, handle: u32) {
        let _ = writeln!(self.out, "{code:>3}\n{handle:X}");
    }

    fn number(&mut self, code: u16, value: f64) {
        self.pair(code, decimal(value, 9));
    }

    /// A point; what is drawn downwards stands upwards here.
    fn point(&mut self, code: u16, p: Point) {
        self.number(code, p.x);
        self.number(code + 10, -p.y);
    }

    fn section(&mut self, name: &str) {
        self.pair(0, "SECTION");
        self.pair(2, name);
    }

    fn header(&mut self, inked: &Inked, seed: u32) {
        self.section("HEADER");
        let mut variable = |name: &str, code: u16, value: &str| {
            self.pair(9, name);
            self.pair(code, value);
        };
        variable("$ACADVER", 1, "AC1024");
        variable("$DWGCODEPAGE", 3, "ANSI_1252");
        variable("$HANDSEED", 5, &format!("{seed:X}"));
        // Millimetres, metric.
        variable("$INSUNITS", 70, "4");
        variable("$MEASUREMENT", 70, "1");
        for (name, p) in [
            (
                "$EXTMIN",
                Point {
                    x: inked.low.x,
                    y: inked.high.y,
                },
            ),
            (
                "$EXTMAX",
                Point {
                    x: inked.high.x,
                    y: inked.low.y,
                },
            ),
        ] {
            self.pair(9, name);
            self.point(10, p);
            self.number(30, 0.0);
        }
        self.pair(0, "ENDSEC");
    }

    fn table(&mut self, name: &str, handle: u32, count: usize) {
        self.pair(0, "TABLE");
        self.pair(2, name);
        self.handle(5, handle);
        self.handle(330, 0);
        self.pair(100, "AcDbSymbolTable");
        self.pair(70, count);
    }

    fn record(&mut self, kind: &str, handle: u32, table: u32, class: &str, name: &str) {
        self.pair(0, kind);
        self.handle(if kind == "DIMSTYLE" { 105 } else { 5 }, handle);
        self.handle(330, table);
        self.pair(100, "AcDbSymbolTableRecord");
        self.pair(100, class);
        self.pair(2, name);
    }

    fn tables(&mut self) {
        self.section("TABLES");
        self.table("VPORT", 0x8, 0);
        self.pair(0, "ENDTAB");
        self.table("LTYPE", 0x5, 3);
        for (handle, name) in [(0x14, "ByBlock"), (0x15, "ByLayer"), (0x16, "Continuous")] {
            self.record("LTYPE", handle, 0x5, "AcDbLinetypeTableRecord", name);
            self.pair(70, 0);
            self.pair(3, "");
            self.pair(72, 65);
            self.pair(73, 0);
            self.number(40, 0.0);
        }
        self.pair(0, "ENDTAB");
        self.table("LAYER", 0x2, Work::ALL.len() + 1);
        let layers = Work::ALL.map(|work| (work.name(), work.entry().dxf_colour));
        let all = std::iter::once(("0", 7)).chain(layers);
        for ((name, colour), handle) in all.zip(0x30_u32..) {
            self.record("LAYER", handle, 0x2, "AcDbLayerTableRecord", name);
            self.pair(70, 0);
            self.pair(62, colour);
            self.pair(6, "Continuous");
            self.pair(370, -3);
            self.handle(390, 0xF);
        }
        self.pair(0, "ENDTAB");
        self.table("STYLE", 0x3, 1);
        self.record("STYLE", 0x11, 0x3, "AcDbTextStyleTableRecord", "Standard");
        self.pair(70, 0);
        self.number(40, 0.0);
        self.number(41, 1.0);
        self.number(50, 0.0);
        self.pair(71, 0);
        self.number(42, 2.5);
        self.pair(3, "txt");
        self.pair(4, "");
        self.pair(0, "ENDTAB");
        self.table("VIEW", 0x6, 0);
        self.pair(0, "ENDTAB");
        self.table("UCS", 0x7, 0);
        self.pair(0, "ENDTAB");
        self.table("APPID", 0x9, 1);
        self.record("APPID", 0x12, 0x9, "AcDbRegAppTableRecord", "ACAD");
        self.pair(70, 0);
        self.pair(0, "ENDTAB");
        self.table("DIMSTYLE", 0xA, 1);
        self.pair(100, "AcDbDimStyleTable");
        self.record("DIMSTYLE", 0x13, 0xA, "AcDbDimStyleTableRecord", "Standard");
        self.pair(70, 0);
        self.pair(0, "ENDTAB");
        self.table("BLOCK_RECORD", 0x1, 2);
        for (handle, name) in [(MODEL, "*Model_Space"), (PAPER, "*Paper_Space")] {
            self.record("BLOCK_RECORD", handle, 0x1, "AcDbBlockTableRecord", name);
            self.handle(340, 0);
            self.pair(70, 0);
            self.pair(280, 1);
            self.pair(281, 0);
        }
        self.pair(0, "ENDTAB");
        self.pair(0, "ENDSEC");
    }

    fn blocks(&mut self) {
        self.section("BLOCKS");
        for (owner, begin, name) in [(MODEL, 0x20, "*Model_Space"), (PAPER, 0x1C, "*Paper_Space")] {
            self.pair(0, "BLOCK");
            self.handle(5, begin);
            self.handle(330, owner);
            self.pair(100, "AcDbEntity");
            if owner == PAPER {
                self.pair(67, 1);
            }
            self.pair(8, "0");
            self.pair(100, "AcDbBlockBegin");
            self.pair(2, name);
            self.pair(70, 0);
            self.point(10, Point::POLE);
            self.number(30, 0.0);
            self.pair(3, name);
            self.pair(1, "");
            self.pair(0, "ENDBLK");
            self.handle(5, begin + 1);
            self.handle(330, owner);
            self.pair(100, "AcDbEntity");
            if owner == PAPER {
                self.pair(67, 1);
            }
            self.pair(8, "0");
            self.pair(100, "AcDbBlockEnd");
        }
        self.pair(0, "ENDSEC");
    }

    fn objects(&mut self) {
        self.section("OBJECTS");
        self.pair(0, "DICTIONARY");
        self.handle(5, 0xC);
        self.handle(330, 0);
        self.pair(100, "AcDbDictionary");
        self.pair(281, 1);
        self.pair(3, "ACAD_GROUP");
        self.handle(350, 0xD);
        self.pair(3, "ACAD_PLOTSTYLENAME");
        self.handle(350, 0xE);
        self.pair(0, "DICTIONARY");
        self.handle(5, 0xD);
        self.handle(330, 0xC);
        self.pair(100, "AcDbDictionary");
        self.pair(281, 1);
        self.pair(0, "ACDBDICTIONARYWDFLT");
        self.handle(5, 0xE);
        self.handle(330, 0xC);
        self.pair(100, "AcDbDictionary");
        self.pair(281, 1);
        self.pair(3, "Normal");
        self.handle(350, 0xF);
        self.pair(100, "AcDbDictionaryWithDefault");
        self.handle(340, 0xF);
        self.pair(0, "ACDBPLACEHOLDER");
        self.handle(5, 0xF);
        self.handle(330, 0xE);
        self.pair(0, "ENDSEC");
    }

    fn entity(&mut self, kind: &str, layer: &str, class: &str) {
        self.pair(0, kind);
        let handle = self.next;
        self.next += 1;
        self.handle(5, handle);
        self.handle(330, MODEL);
        self.pair(100, "AcDbEntity");
        self.pair(8, layer);
        self.pair(100, class);
    }

    fn contour(&mut self, contour: &Contour, layer: &str) {
        match contour.as_arcs(WITHIN_MM) {
            Contour::Circle { centre, radius_mm } => self.circle(centre, radius_mm, layer),
            Contour::Path {
                start,
                pieces,
                closed,
            } => match pieces.as_slice() {
                [Piece::Line { to }] if !closed => {
                    self.entity("LINE", layer, "AcDbLine");
                    self.point(10, start);
                    self.number(30, 0.0);
                    self.point(11, *to);
                    self.number(31, 0.0);
                }
                [Piece::Arc { centre, sweep, .. }] if !closed => {
                    self.arc(*centre, start, *sweep, layer);
                }
                _ => self.polyline(start, &pieces, closed, layer),
            },
        }
    }

    fn circle(&mut self, centre: Point, radius_mm: f64, layer: &str) {
        self.entity("CIRCLE", layer, "AcDbCircle");
        self.point(10, centre);
        self.number(30, 0.0);
        self.number(40, radius_mm);
    }

    /// An arc, which in DXF always runs against the clock as seen.
    fn arc(&mut self, centre: Point, start: Point, sweep: Angle, layer: &str) {
        let radius_mm = (start - centre).radius();
        if sweep.abs().deg() > 359.999_999 {
            self.circle(centre, radius_mm, layer);
            return;
        }
        let first = -(start - centre).direction();
        let last = first - sweep;
        let (from, to) = if sweep.deg() < 0.0 {
            (first, last)
        } else {
            (last, first)
        };
        self.entity("ARC", layer, "AcDbCircle");
        self.point(10, centre);
        self.number(30, 0.0);
        self.number(40, radius_mm);
        self.pair(100, "AcDbArc");
        self.number(50, from.in_turn().deg());
        self.number(51, to.in_turn().deg());
    }

    fn polyline(&mut self, start: Point, pieces: &[Piece], closed: bool, layer: &str) {
        // Each vertex with the bulge of the piece that begins there: the tangent of a
        // quarter of its angle, positive against the clock as seen.
        let mut vertices: Vec<(Point, f64)> = Vec::new();
        let mut at = start;
        for piece in pieces {
            match *piece {
                Piece::Arc { sweep, .. } => {
                    // Half a turn at most in one bulge.
                    let parts = if sweep.abs().deg() > 170.0 { 3 } else { 1 };
                    for n in 0..parts {
                        let begin = piece.at(at, f64::from(n) / f64::from(parts));
                        let bulge = -(sweep / f64::from(parts) / 4.0).tan();
                        vertices.push((begin, bulge));
                    }
                }
                _ => vertices.push((at, 0.0)),
            }
            at = piece.end();
        }
        // A closed path that does not return by itself is closed by a straight piece.
        let returned = (at - start).radius() < 1e-6;
        if !(closed && returned) {
            vertices.push((at, 0.0));
        }
        self.entity("LWPOLYLINE", layer, "AcDbPolyline");
        self.pair(90, vertices.len());
        self.pair(70, u8::from(closed));
        self.number(43, 0.0);
        for (vertex, bulge) in vertices {
            self.point(10, vertex);
            if bulge.abs() > 1e-12 {
                self.number(42, bulge);
            }
        }
    }
}
