//! Something measured at all four corners: ride height, tyre pressure, tread, hub temperature.

use super::desk::Desk;

/// One value a corner, any of them still unmeasured. The unit is the sheet's; nothing here depends on it.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Corners {
    /// Front left.
    pub front_left: Option<f64>,
    /// Front right.
    pub front_right: Option<f64>,
    /// Rear left.
    pub rear_left: Option<f64>,
    /// Rear right.
    pub rear_right: Option<f64>,
}

impl Corners {
    /// Those that were measured.
    fn measured(self) -> impl Iterator<Item = f64> {
        [self.front_left, self.front_right, self.rear_left, self.rear_right].into_iter().flatten()
    }

    /// The least.
    #[must_use]
    pub fn least(self) -> Option<f64> {
        self.measured().reduce(f64::min)
    }

    /// The greatest.
    #[must_use]
    pub fn greatest(self) -> Option<f64> {
        self.measured().reduce(f64::max)
    }

    /// The greater of the two axles' differences from side to side, without a sign. One axle is enough.
    #[must_use]
    pub fn side_difference(self) -> Option<f64> {
        let across = |left: Option<f64>, right: Option<f64>| Some((left? - right?).abs());
        [across(self.front_left, self.front_right), across(self.rear_left, self.rear_right)]
            .into_iter()
            .flatten()
            .reduce(f64::max)
    }

    /// The mean of the rear less the mean of the front: positive where the tail stands higher.
    #[must_use]
    pub fn rake(self) -> Option<f64> {
        let front = (self.front_left? + self.front_right?) / 2.0;
        let rear = (self.rear_left? + self.rear_right?) / 2.0;
        Some(rear - front)
    }
}

/// The rule `each-wheel`: whatever follows from the corners measured so far.
pub(super) fn read(desk: &mut Desk) {
    let corners = Corners {
        front_left: desk.number("front-left"),
        front_right: desk.number("front-right"),
        rear_left: desk.number("rear-left"),
        rear_right: desk.number("rear-right"),
    };
    let derived = [
        ("front-left", corners.front_left),
        ("front-right", corners.front_right),
        ("rear-left", corners.rear_left),
        ("rear-right", corners.rear_right),
        ("least", corners.least()),
        ("greatest", corners.greatest()),
        ("side-difference", corners.side_difference()),
        ("rake", corners.rake()),
    ];
    for (name, value) in derived {
        if let Some(value) = value {
            desk.result(name, value);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn level_and_rake() {
        let heights = Corners {
            front_left: Some(0.250),
            front_right: Some(0.245),
            rear_left: Some(0.262),
            rear_right: Some(0.274),
        };
        assert!((heights.side_difference().unwrap() - 0.012).abs() < 1e-12);
        assert!((heights.rake().unwrap() - 0.0205).abs() < 1e-12);
        assert_eq!((heights.least(), heights.greatest()), (Some(0.245), Some(0.274)));
    }

    #[test]
    fn one_axle_says_what_it_can() {
        let rear = Corners { rear_left: Some(3.0), rear_right: Some(1.0), ..Corners::default() };
        assert_eq!(rear.side_difference(), Some(2.0));
        assert_eq!(rear.rake(), None);
        assert_eq!(Corners::default().least(), None);
    }
}
