//! A linear programme that grows by rows: most of an objective under limits found one after the other.
//!
//! Column generation seen from its dual: every pattern is a row. Kept warm between rows by the library. An answer is a hint to
//! whoever asks: the proofs add up whole numbers again and trust none of these.

use microlp::{ComparisonOp, OptimizationDirection, Problem, Solution, Variable};

/// A programme solved so far. Variables are 0 or more.
pub(crate) struct Rows {
    solution: Option<Solution>,
    variables: Vec<Variable>,
}

/// One limit: the terms sum to at most `most`.
pub(crate) struct Row {
    pub terms: Vec<(usize, f64)>,
    pub most: f64,
}

impl Rows {
    /// Most of `objective` under the first rows; they must bound it.
    pub fn maximize(objective: &[f64], rows: &[Row]) -> Self {
        let mut problem = Problem::new(OptimizationDirection::Maximize);
        let variables: Vec<Variable> = objective.iter().map(|&each| problem.add_var(each, (0.0, f64::INFINITY))).collect();
        for row in rows {
            let terms: Vec<_> = row.terms.iter().map(|&(place, factor)| (variables[place], factor)).collect();
            problem.add_constraint(&terms[..], ComparisonOp::Le, row.most);
        }
        let solution = problem.solve().ok().and_then(|outcome| outcome.into_solution().ok());
        Self { solution, variables }
    }

    /// Adds a row and solves on. Whether that worked.
    pub fn add(&mut self, row: &Row) -> bool {
        let terms: Vec<_> = row.terms.iter().map(|&(place, factor)| (self.variables[place], factor)).collect();
        let Some(solution) = self.solution.take() else { return false };
        let added = solution.add_constraint(&terms[..], ComparisonOp::Le, row.most);
        self.solution = added.ok().and_then(|outcome| outcome.into_solution().ok());
        self.solution.is_some()
    }

    /// The values of the variables, if the programme was solved.
    pub fn values(&self) -> Option<Vec<f64>> {
        let solution = self.solution.as_ref()?;
        Some(self.variables.iter().map(|&variable| solution.var_value(variable).max(0.0)).collect())
    }
}

/// Least cost of non-negative amounts of `columns` that together cover `wanted`: how much of each.
pub(crate) fn cover(columns: &[(f64, Vec<(usize, f64)>)], wanted: &[f64]) -> Option<Vec<f64>> {
    cover_within(columns, wanted, &[])
}

/// Columns, and the least and most of their sum.
pub(crate) type Within = (Vec<usize>, (u32, Option<u32>));

/// The same with the sums of some columns limited.
pub(crate) fn cover_within(columns: &[(f64, Vec<(usize, f64)>)], wanted: &[f64], within: &[Within]) -> Option<Vec<f64>> {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let amounts: Vec<Variable> = columns.iter().map(|(cost, _)| problem.add_var(*cost, (0.0, f64::INFINITY))).collect();
    let mut rows = vec![Vec::new(); wanted.len()];
    for ((_, terms), &amount) in columns.iter().zip(&amounts) {
        for &(row, factor) in terms {
            rows[row].push((amount, factor));
        }
    }
    for (row, &least) in rows.iter().zip(wanted) {
        problem.add_constraint(&row[..], ComparisonOp::Ge, least);
    }
    for (columns, (least, most)) in within {
        let terms: Vec<_> = columns.iter().map(|&column| (amounts[column], 1.0)).collect();
        if *least > 0 {
            problem.add_constraint(&terms[..], ComparisonOp::Ge, f64::from(*least));
        }
        if let Some(most) = most {
            problem.add_constraint(&terms[..], ComparisonOp::Le, f64::from(*most));
        }
    }
    let solution = problem.solve().ok()?.into_solution().ok()?;
    Some(amounts.iter().map(|&amount| solution.var_value(amount)).collect())
}
