//! The table that is printed: what was measured, beside what, and whether that is good enough.

const MISSED: &str = "missed";

/// What a row should reach.
#[derive(Clone, Copy, Debug)]
pub(super) enum Goal {
    /// It is there to be compared with.
    None,
    /// The value.
    AtLeast(f64),
    /// The value.
    AtMost(f64),
    /// The value, as so many times what it stands beside.
    RatioAtMost(f64),
}

/// One line.
#[derive(Clone, Debug)]
pub(super) struct Row {
    name: String,
    value: f64,
    unit: &'static str,
    ratio: f64,
    goal: Goal,
}

impl Row {
    /// A speed, beside that of a whole rehearsal natively.
    pub(super) fn speed(name: String, value: f64, natively: f64, goal: Goal) -> Self {
        Self { name, value, unit: "/s", ratio: value / natively, goal }
    }

    /// What travels, in bytes, beside what should.
    pub(super) fn weight(name: &str, value: f64, goal: f64) -> Self {
        Self { name: name.to_owned(), value, unit: "B", ratio: value / goal, goal: Goal::AtMost(goal) }
    }

    /// How long something takes, in milliseconds, beside what it may.
    pub(super) fn time(name: String, value: f64, most: f64) -> Self {
        Self { name, value, unit: "ms", ratio: value / most, goal: Goal::AtMost(most) }
    }

    /// A figure beside another one or, without one, beside its goal.
    pub(super) fn figure(name: &str, value: f64, beside: Option<f64>, unit: &'static str, goal: Goal) -> Self {
        let most = if let Goal::AtMost(most) | Goal::AtLeast(most) = goal { Some(most) } else { None };
        let ratio = beside.or(most).filter(|other| *other > 0.0).map_or(f64::NAN, |other| value / other);
        Self { name: name.to_owned(), value, unit, ratio, goal }
    }

    /// Whether there is a goal, and it is not met.
    pub(super) fn is_missed(&self) -> bool {
        self.judged().1 == MISSED
    }

    /// The goal in words, and whether it is met.
    fn judged(&self) -> (String, &'static str) {
        let (text, met) = match self.goal {
            Goal::None => return (String::new(), ""),
            Goal::AtLeast(least) => (format!(">= {least:.0} {}", self.unit), self.value >= least),
            Goal::AtMost(most) => (format!("<= {most:.0} {}", self.unit), self.value <= most),
            Goal::RatioAtMost(most) => (format!("ratio <= {most}"), self.ratio <= most),
        };
        (text, if met { "met" } else { MISSED })
    }
}

/// Prints them. A ratio is to the first row, to what was measured beside it or, without that, to the goal.
pub(super) fn print(rows: &[Row]) {
    println!("{:<42} {:>9} {:<4} {:>7}  {:<13} state", "what", "median", "", "ratio", "goal");
    for row in rows {
        let (goal, state) = row.judged();
        let ratio = if row.ratio.is_nan() { String::new() } else { format!("{:.3}", row.ratio) };
        let line = format!("{:<42} {:>9.0} {:<4} {ratio:>7}  {goal:<13} {state}", row.name, row.value, row.unit);
        println!("{}", line.trim_end());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_goal_is_met_at_its_very_value() {
        let state = |value, goal| Row::speed(String::new(), value, 10.0, goal).judged().1;
        assert_eq!(state(20.0, Goal::AtLeast(20.0)), "met");
        assert_eq!(state(19.9, Goal::AtLeast(20.0)), "missed");
        assert_eq!(state(20.0, Goal::RatioAtMost(2.0)), "met");
        assert_eq!(state(20.1, Goal::RatioAtMost(2.0)), "missed");
        assert_eq!(state(20.1, Goal::None), "");
        assert_eq!(Row::weight("", 5.0, 4.0).judged(), ("<= 4 B".to_owned(), "missed"));
    }
}
