use super::mesh::Mesh;

/// A surface as a binary STL (the interface specification of 1989, which names no unit:
/// one unit is a millimetre here).
pub(super) fn stl(mesh: &Mesh, title: &str) -> Vec<u8> {
    const HEAD: usize = 80;
    let mut bytes = Vec::with_capacity(HEAD + 4 + 50 * mesh.triangles.len());
    // A head that begins with “solid” would be taken for the form in letters.
    let head = format!("millimetres: {title}");
    bytes.extend(head.bytes().filter(u8::is_ascii).take(HEAD));
    bytes.resize(HEAD, b' ');
    let count = u32::try_from(mesh.triangles.len()).unwrap_or(u32::MAX);
    bytes.extend(count.to_le_bytes());
    for triangle in &mesh.triangles {
        let places = triangle.map(|corner| mesh.place_mm(corner));
        let all = std::iter::once(normal(places)).chain(places);
        for number in all.flatten() {
            #[expect(
                clippy::cast_possible_truncation,
                reason = "places of the grid are exact in single precision"
            )]
            let number = number as f32;
            bytes.extend(number.to_le_bytes());
        }
        bytes.extend([0, 0]);
    }
    bytes
}

/// The unit vector outwards.
fn normal([a, b, c]: [[f64; 3]; 3]) -> [f64; 3] {
    let less = |p: [f64; 3], q: [f64; 3]| [p[0] - q[0], p[1] - q[1], p[2] - q[2]];
    let ([ux, uy, uz], [vx, vy, vz]) = (less(b, a), less(c, a));
    let across = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    let length = across.iter().map(|one| one * one).sum::<f64>().sqrt();
    across.map(|one| one / length.max(1e-300) + 0.0)
}
