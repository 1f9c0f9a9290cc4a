//! A rigid motion: rotation and translation.

/// A point or a direction in space.
pub(crate) type Vector = [f64; 3];

pub(crate) fn dot(a: Vector, b: Vector) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(crate) fn cross(a: Vector, b: Vector) -> Vector {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

pub(crate) fn minus(a: Vector, b: Vector) -> Vector {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

pub(crate) fn length(a: Vector) -> f64 {
    libm::sqrt(dot(a, a))
}

/// The direction of a vector; `None` for one without a length.
pub(crate) fn unit(a: Vector) -> Option<Vector> {
    let l = length(a);
    (l > 0.0 && l.is_finite()).then(|| a.map(|c| c / l))
}

/// A direction square to another.
pub(crate) fn square_to(a: Vector) -> Vector {
    let least = (0..3).min_by(|&i, &j| libm::fabs(a[i]).total_cmp(&libm::fabs(a[j]))).unwrap_or(0);
    let mut axis = [0.0; 3];
    axis[least] = 1.0;
    unit(cross(a, axis)).unwrap_or([0.0, 0.0, 1.0])
}

/// `p ↦ R·p + t`, `R` a proper rotation given by its rows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Motion {
    pub rows: [Vector; 3],
    pub shift: Vector,
}

impl Motion {
    /// What brings `[origin, axis, normal]` of one frame to those of another; axes and normals are unit and square to
    /// each other.
    pub fn between(from: [Vector; 3], to: [Vector; 3]) -> Self {
        let frame = |[_, a, n]: [Vector; 3]| [a, n, cross(a, n)];
        let (f, g) = (frame(from), frame(to));
        let mut rows = [[0.0; 3]; 3];
        for (i, row) in rows.iter_mut().enumerate() {
            for (j, entry) in row.iter_mut().enumerate() {
                *entry = (0..3).map(|k| g[k][i] * f[k][j]).sum();
            }
        }
        let turned = Self { rows, shift: [0.0; 3] }.of(from[0]);
        Self { rows, shift: minus(to[0], turned) }
    }

    #[inline]
    pub fn of(&self, p: Vector) -> Vector {
        [
            dot(self.rows[0], p) + self.shift[0],
            dot(self.rows[1], p) + self.shift[1],
            dot(self.rows[2], p) + self.shift[2],
        ]
    }

    /// Followed by a turn about `centre` by the rotation vector `turn` (Rodrigues' formula) and a shift.
    pub fn followed_by(&self, turn: Vector, centre: Vector, shift: Vector) -> Self {
        let angle = length(turn);
        let (a, b) = if angle > 1e-9 {
            let half = libm::sin(0.5 * angle) / angle;
            (libm::sin(angle) / angle, 2.0 * half * half)
        } else {
            (1.0, 0.5)
        };
        let turned = |v: Vector| {
            let once = cross(turn, v);
            let twice = cross(turn, once);
            [0, 1, 2].map(|k| v[k] + a * once[k] + b * twice[k])
        };
        let column = |j: usize| turned([self.rows[0][j], self.rows[1][j], self.rows[2][j]]);
        let columns = [column(0), column(1), column(2)];
        let rows = [0, 1, 2].map(|i| [columns[0][i], columns[1][i], columns[2][i]]);
        let moved = turned(minus(self.shift, centre));
        Self { rows, shift: [0, 1, 2].map(|k| moved[k] + centre[k] + shift[k]) }.squared()
    }

    /// The rows made square to each other again, which rounding parts by a little at each turn.
    fn squared(mut self) -> Self {
        let Some(first) = unit(self.rows[0]) else { return self };
        let along = dot(first, self.rows[1]);
        let rest = [0, 1, 2].map(|k| self.rows[1][k] - along * first[k]);
        let Some(second) = unit(rest) else { return self };
        self.rows = [first, second, cross(first, second)];
        self
    }

    /// The same motion between mirrored frames: `y` of both changes its sign.
    pub fn mirrored(&self) -> Self {
        let sign = [1.0, -1.0, 1.0];
        let rows = [0, 1, 2].map(|i| [0, 1, 2].map(|j| sign[i] * sign[j] * self.rows[i][j]));
        Self { rows, shift: [0, 1, 2].map(|i| sign[i] * self.shift[i]) }
    }
}
