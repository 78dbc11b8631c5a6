use nalgebra::{Matrix2, Matrix3, Rotation3, Vector2, Vector3};

use super::too_little::TooLittle;
use crate::examining::median;

/// How a picture was taken: a pinhole camera with one term of radial distortion (D. C. Brown,
/// "Close-range camera calibration", *Photogrammetric Engineering* 37, 1971).
///
/// The space it looks into is that of the limb's face as one looks at it: x to the right, y
/// down, z away from the eye, and the middle of the graduation at the origin. Lengths are in
/// radii of the plate's equator.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Camera {
    /// The distance of the picture's plane, in pixels.
    pub(super) focal_px: f64,
    /// Where the axis meets the picture, in pixels.
    pub(super) centre_px: Vector2<f64>,
    /// From the space of the limb to that of the camera.
    pub(super) turn: Rotation3<f64>,
    /// Where the middle of the limb lies before the camera.
    pub(super) before: Vector3<f64>,
    /// The term of distortion: a ray at the slope r is seen at r (1 + k r²).
    pub(super) distortion: f64,
}

/// A pixel, counted from the middle of the picture's upper left one, to the right and down.
pub(super) type Pixel = Vector2<f64>;

impl Camera {
    /// Where a point of space is seen; None behind the camera.
    pub(super) fn seen(&self, point: &Vector3<f64>) -> Option<Pixel> {
        let at = self.ray(point);
        if at.z <= 1e-6 {
            return None;
        }
        let slope = Vector2::new(at.x, at.y) / at.z;
        Some(
            self.centre_px
                + slope * (self.focal_px * (1.0 + self.distortion * slope.norm_squared())),
        )
    }

    /// From the camera to a point of space, along its own axes.
    pub(super) fn ray(&self, point: &Vector3<f64>) -> Vector3<f64> {
        self.turn * point + self.before
    }

    /// The point of the plane at a depth that is seen at a pixel; None where the ray does not
    /// meet it before the camera.
    pub(super) fn on_plane(&self, pixel: &Pixel, depth: f64) -> Option<Vector2<f64>> {
        let bent = (pixel - self.centre_px) / self.focal_px;
        let mut slope = bent;
        // The bend is small, so that a few rounds undo it to the last digit.
        for _ in 0..12 {
            slope = bent / (1.0 + self.distortion * slope.norm_squared());
        }
        let ray = self.turn.inverse() * Vector3::new(slope.x, slope.y, 1.0);
        let eye = self.turn.inverse() * -self.before;
        let along = (depth - eye.z) / ray.z;
        let point = eye + ray * along;
        (along > 0.0 && point.iter().all(|one| one.is_finite())).then(|| point.xy())
    }

    /// The cameras with a focal length that see points of the limb's face where a picture has
    /// them, as nearly as a plane seen from afar lets one tell: the second leans the other way.
    ///
    /// From the projective map of plane to picture (Z. Zhang, "A flexible new technique for
    /// camera calibration", *IEEE Transactions on Pattern Analysis* 22, 2000).
    pub(super) fn towards(
        points: &[(Vector2<f64>, Pixel)],
        focal_px: f64,
        centre_px: Vector2<f64>,
    ) -> Option<[Camera; 2]> {
        let slopes: Vec<_> = points
            .iter()
            .map(|(point, pixel)| (*point, (pixel - centre_px) / focal_px))
            .collect();
        let map = projective(&slopes)?;
        // Its columns are two axes and the origin, all of one length off.
        let scale = (map.column(0).norm() * map.column(1).norm()).sqrt();
        let map = map / if map.m33 < 0.0 { -scale } else { scale };
        let (right, down) = (map.column(0).into_owned(), map.column(1).into_owned());
        let rough = Matrix3::from_columns(&[right, down, right.cross(&down)]);
        let turn = Rotation3::from_matrix(&rough);
        let before = map.column(2).into_owned();
        let of = |turn| Camera {
            focal_px,
            centre_px,
            turn,
            before,
            distortion: 0.0,
        };
        // Seen along the line of sight a plane and its mirror image in depth are alike.
        let sight = before.normalize();
        let axis = turn * Vector3::z();
        let mirrored = sight * (2.0 * sight.dot(&axis)) - axis;
        let other = Rotation3::rotation_between(&axis, &mirrored).map(|lean| lean * turn);
        Some([of(turn), of(other.unwrap_or(turn))])
    }

    /// The cameras so far off that the picture of the plane is an affine one, by as few as
    /// three points: it leans one way, or the other.
    ///
    /// # Errors
    /// When the points lie on one line, or run the wrong way round.
    pub(super) fn from_afar(
        points: &[(Vector2<f64>, Pixel)],
        focal_px: f64,
        centre_px: Vector2<f64>,
    ) -> Result<[Camera; 2], TooLittle> {
        /// Points that lie within such a part of their spread about a line tell no plane.
        const FLAT: f64 = 1e-3;
        let count = points.len() as f64;
        let slope = |pixel: &Pixel| (pixel - centre_px) / focal_px;
        let from_middle = points.iter().map(|(from, _)| from).sum::<Vector2<f64>>() / count;
        let to_middle = points.iter().map(|(_, to)| slope(to)).sum::<Vector2<f64>>() / count;
        let (mut spread, mut carried) = (Matrix2::zeros(), Matrix2::zeros());
        for (from, to) in points {
            let from = from - from_middle;
            spread += from * from.transpose();
            carried += (slope(to) - to_middle) * from.transpose();
        }
        let least = spread.symmetric_eigenvalues().min();
        let is_flat = least <= FLAT * spread.trace();
        if is_flat || !least.is_finite() {
            return Err(TooLittle::SettingOnOneLine);
        }
        let inverse = spread.try_inverse().ok_or(TooLittle::SettingOnOneLine)?;
        let map = carried * inverse;
        // Seen from behind, or with its hours the other way, it would be mirrored.
        let is_front = map.determinant() > 0.0;
        if !is_front || !map.iter().all(|one| one.is_finite()) {
            return Err(TooLittle::NoFit);
        }
        // The longer of its two stretches is that of what does not lean.
        let parts = map.svd(true, true);
        let (Some(left), Some(right)) = (parts.u, parts.v_t) else {
            return Err(TooLittle::NoFit);
        };
        let [most, least] = [parts.singular_values.x, parts.singular_values.y];
        let cosine = (least / most).clamp(0.0, 1.0);
        let sine = (1.0 - cosine * cosine).sqrt();
        let whole = |flat: Matrix2<f64>| flat.to_homogeneous();
        let at = to_middle - map * from_middle;
        let of = |sine: f64| {
            let lean = Matrix3::new(1.0, 0.0, 0.0, 0.0, cosine, -sine, 0.0, sine, cosine);
            // Both of the outer ones may be mirrored, which undoes itself.
            let turn = whole(left) * lean * whole(right);
            Camera {
                focal_px,
                centre_px,
                turn: Rotation3::from_matrix(&turn),
                before: Vector3::new(at.x, at.y, 1.0) / most,
                distortion: 0.0,
            }
        };
        Ok([of(sine), of(-sine)])
    }
}

/// The numbers of the pairs that one projective map takes to each other, where a few are
/// wrong: of maps by five pairs spread through all of them, the one that leaves the middle of
/// all nearest (P. Rousseeuw, "Least median of squares regression", *Journal of the American
/// Statistical Association* 79, 1984).
pub(super) fn agreeing(pairs: &[(Vector2<f64>, Pixel)]) -> Vec<usize> {
    /// How far off a pair may be, in times the distance of the one in the middle.
    const FAR: f64 = 6.0;
    let count = pairs.len();
    let off = |map: &Matrix3<f64>| -> Vec<f64> {
        let one = |(from, to): &(Vector2<f64>, Pixel)| {
            let there = map * from.push(1.0);
            (there.xy() / there.z - to).norm()
        };
        pairs.iter().map(one).collect()
    };
    let fives = (0..count).flat_map(|first| {
        // Neighbours, every second one, and so on: all round the limb or on a side of it.
        (1..=count / 4)
            .map(move |step| [0, 1, 2, 3, 4].map(|number| (first + number * step) % count))
    });
    let best = fives
        .filter_map(|five| {
            let some: Vec<_> = five
                .iter()
                .filter_map(|number| pairs.get(*number).copied())
                .collect();
            let off = off(&projective(&some)?);
            let middle = median(off.clone());
            middle.is_finite().then_some((middle, off))
        })
        .min_by(|(one, _), (other, _)| one.total_cmp(other));
    match best {
        Some((middle, off)) => (0..count)
            .filter(|number| {
                off.get(*number)
                    .is_some_and(|off| *off <= FAR * middle.max(1.0))
            })
            .collect(),
        None => (0..count).collect(),
    }
}

/// The projective map that takes each first point to its second one, by the least singular
/// vector of its linear equations; None of fewer than four points, or where they do not
/// determine it.
fn projective(pairs: &[(Vector2<f64>, Vector2<f64>)]) -> Option<Matrix3<f64>> {
    if pairs.len() < 4 {
        return None;
    }
    // Of one size about the origin, so that all equations weigh alike.
    let middle = pairs.iter().map(|(_, to)| to).sum::<Vector2<f64>>() / pairs.len() as f64;
    let spread = pairs
        .iter()
        .map(|(_, to)| (to - middle).norm())
        .sum::<f64>()
        / pairs.len() as f64;
    if !(spread > 1e-12 && spread.is_finite()) {
        return None;
    }
    let mut normal = nalgebra::SMatrix::<f64, 9, 9>::zeros();
    for (from, to) in pairs {
        let to = (to - middle) / spread;
        for row in [
            [
                from.x,
                from.y,
                1.0,
                0.0,
                0.0,
                0.0,
                -to.x * from.x,
                -to.x * from.y,
                -to.x,
            ],
            [
                0.0,
                0.0,
                0.0,
                from.x,
                from.y,
                1.0,
                -to.y * from.x,
                -to.y * from.y,
                -to.y,
            ],
        ] {
            let row = nalgebra::SVector::<f64, 9>::from(row);
            normal += row * row.transpose();
        }
    }
    let eigen = normal.symmetric_eigen();
    let (least, _) = eigen.eigenvalues.argmin();
    let map = eigen.eigenvectors.column(least);
    let map = Matrix3::from_row_iterator(map.iter().copied());
    let back = Matrix3::new(spread, 0.0, middle.x, 0.0, spread, middle.y, 0.0, 0.0, 1.0);
    let map = back * map;
    map.iter().all(|one| one.is_finite()).then_some(map)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn leaning() -> Camera {
        Camera {
            focal_px: 3600.0,
            centre_px: Vector2::new(1500.0, 1100.0),
            turn: Rotation3::from_euler_angles(0.4, -0.3, 0.2),
            before: Vector3::new(0.1, -0.2, 6.0),
            distortion: 0.05,
        }
    }

    #[test]
    fn what_is_seen_is_found_again() {
        let camera = leaning();
        for (x, y, depth) in [(0.0, 0.0, 0.0), (1.5, -0.2, 0.03), (-1.1, 1.2, -0.05)] {
            let pixel = camera.seen(&Vector3::new(x, y, depth)).expect("before it");
            let found = camera.on_plane(&pixel, depth).expect("met");
            assert!((found - Vector2::new(x, y)).norm() < 1e-9, "{found}");
        }
    }

    /// From ten times its breadth the affine camera is the true one to within what three
    /// points of it would see.
    #[test]
    fn three_points_tell_a_camera_that_is_far_off() {
        let camera = Camera {
            distortion: 0.0,
            before: Vector3::new(1.0, -2.0, 60.0),
            ..leaning()
        };
        let seen = |x: f64, y: f64| {
            let pixel = camera.seen(&Vector3::new(x, y, 0.0)).expect("seen");
            (Vector2::new(x, y), pixel)
        };
        let points = [seen(0.0, 0.0), seen(1.0, 0.2), seen(-0.3, 1.1)];
        let found = Camera::from_afar(&points, 3600.0, camera.centre_px).expect("told");
        let off = found
            .each_ref()
            .map(|one| one.turn.angle_to(&camera.turn).to_degrees());
        assert!(off[0].min(off[1]) < 4.0, "{off:?}");
        assert!(
            found
                .iter()
                .any(|one| (one.before.z / 60.0 - 1.0).abs() < 0.05)
        );
        let line = [seen(0.0, 0.0), seen(1.0, 0.5), seen(-2.0, -1.0)];
        let refused = Camera::from_afar(&line, 3600.0, camera.centre_px);
        assert_eq!(refused.err(), Some(TooLittle::SettingOnOneLine));
        let behind = points.map(|(from, to)| (Vector2::new(-from.x, from.y), to));
        let refused = Camera::from_afar(&behind, 3600.0, camera.centre_px);
        assert_eq!(refused.err(), Some(TooLittle::NoFit));
    }

    #[test]
    fn four_points_tell_the_camera() {
        let camera = Camera {
            distortion: 0.0,
            ..leaning()
        };
        let points: Vec<_> = [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.1, -1.0)]
            .map(|(x, y)| {
                (
                    Vector2::new(x, y),
                    camera.seen(&Vector3::new(x, y, 0.0)).expect("seen"),
                )
            })
            .to_vec();
        let [found, other] = Camera::towards(&points, 3600.0, camera.centre_px).expect("told");
        assert!(found.turn.angle_to(&camera.turn) < 1e-6);
        assert!((found.before - camera.before).norm() < 1e-6);
        assert!(other.turn.angle_to(&camera.turn) > 0.5);
        // A wrong one among twelve is left out, wherever it is.
        for wrong in 0..12 {
            let mut points: Vec<_> = (0..12)
                .map(|number| {
                    let (y, x) = (f64::from(number) * std::f64::consts::FRAC_PI_6).sin_cos();
                    let seen = camera.seen(&Vector3::new(x, y, 0.0)).expect("seen");
                    (Vector2::new(x, y), seen)
                })
                .collect();
            points[wrong].1 += Vector2::new(40.0, -25.0);
            let good = agreeing(&points);
            assert_eq!(
                good,
                (0..12).filter(|one| *one != wrong).collect::<Vec<_>>()
            );
        }
        assert!(Camera::towards(&points[..3], 3600.0, camera.centre_px).is_none());
        let one = vec![points[0]; 5];
        assert!(Camera::towards(&one, 3600.0, camera.centre_px).is_none());
    }
}
