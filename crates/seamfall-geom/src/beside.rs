//! Points that lie along a straight side.
//!
//! In: points, and sides one after the other. Out: for each side the points on it. Sorted both ways once, so that a side looks only at the points
//! that are level with it or above one another with it, whichever are fewer: pieces of cloth lie in rows and columns.

use crate::Point;

/// Points, sorted both ways.
#[derive(Debug, Clone)]
pub struct Beside<'a> {
    points: &'a [Point],
    by_x: Vec<usize>,
    by_y: Vec<usize>,
}

impl<'a> Beside<'a> {
    /// Sorts `points`.
    #[must_use]
    pub fn new(points: &'a [Point]) -> Self {
        let by = |value: fn(&Point) -> f64| {
            let mut order: Vec<usize> = (0..points.len()).collect();
            order.sort_by(|&a, &b| value(&points[a]).total_cmp(&value(&points[b])));
            order
        };
        Self { points, by_x: by(|p| p.x), by_y: by(|p| p.y) }
    }

    /// Numbers of the points within `near` of the side, between its ends, in order from its start.
    #[must_use]
    pub fn along(&self, from: Point, to: Point, near: f64) -> Vec<usize> {
        let within = |order: &'_ [usize], value: fn(&Point) -> f64| {
            let (low, high) = (value(&from).min(value(&to)) - near, value(&from).max(value(&to)) + near);
            let first = order.partition_point(|&i| value(&self.points[i]) < low);
            first..order.partition_point(|&i| value(&self.points[i]) <= high)
        };
        let across = &self.by_x[within(&self.by_x, |p| p.x)];
        let up = &self.by_y[within(&self.by_y, |p| p.y)];
        let way = to - from;
        let on = |&i: &usize| {
            let away = self.points[i] - from;
            let t = away.dot(way) / way.hypot2();
            let off = away - t * way;
            (t > 0.0 && t < 1.0 && off.hypot2() <= near * near).then_some((t, i))
        };
        let mut on: Vec<(f64, usize)> = if across.len() <= up.len() { across } else { up }.iter().filter_map(on).collect();
        on.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        on.into_iter().map(|(_, i)| i).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By the definition, for every side between two of the points of a slanted grid.
    #[test]
    fn the_points_of_a_side_are_those_between_its_ends() {
        let points: Vec<Point> =
            (0..49).map(|i| Point::new(f64::from(i % 7) + f64::from(i / 7) * 0.5, f64::from(i / 7))).collect();
        let beside = Beside::new(&points);
        for (a, &from) in points.iter().enumerate() {
            for (b, &to) in points.iter().enumerate().filter(|(b, _)| *b != a) {
                let length = (to - from).hypot();
                let between = |&i: &usize| {
                    i != a && i != b && ((points[i] - from).hypot() + (to - points[i]).hypot() - length).abs() < 1e-9
                };
                let mut expected: Vec<usize> = (0..points.len()).filter(between).collect();
                expected.sort_by(|&i, &j| (points[i] - from).hypot2().total_cmp(&(points[j] - from).hypot2()));
                assert_eq!(beside.along(from, to, 1e-6), expected, "from {from} to {to}");
            }
        }
    }
}
