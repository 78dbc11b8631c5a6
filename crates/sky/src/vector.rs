/// Rectangular coordinates.
pub(crate) type Vector = [f64; 3];

/// Rotation from one set of axes to another, by rows.
pub(crate) type Matrix = [Vector; 3];

pub(crate) fn dot(a: Vector, b: Vector) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(crate) fn cross(a: Vector, b: Vector) -> Vector {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

pub(crate) fn length(a: Vector) -> f64 {
    dot(a, a).sqrt()
}

pub(crate) fn plus(a: Vector, b: Vector) -> Vector {
    [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

pub(crate) fn minus(a: Vector, b: Vector) -> Vector {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

pub(crate) fn scaled(a: Vector, k: f64) -> Vector {
    [a[0] * k, a[1] * k, a[2] * k]
}

pub(crate) fn turned(m: &Matrix, a: Vector) -> Vector {
    [dot(m[0], a), dot(m[1], a), dot(m[2], a)]
}
