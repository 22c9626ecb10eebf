//! How well a test method agrees with a reference: the two-by-two table and what is read from it.
//!
//! "Positive" means that the method says the fit is inadequate. The published limits for a fit test method are those by which
//! proposals are judged: sensitivity and predictive value of a pass at least 0.95, specificity and predictive value of a
//! fail above 0.50, kappa above 0.70.

/// Counts or shares of wearers, by what the method said and what the reference says.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Table {
    /// Poor fits failed.
    pub a: f64,
    /// Good fits failed.
    pub b: f64,
    /// Poor fits passed: the dangerous ones.
    pub c: f64,
    /// Good fits passed.
    pub d: f64,
}

/// The five measures, none of which is there where nobody is to be divided by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measures {
    /// Of poor fits, the share failed.
    pub sensitivity: f64,
    /// Of passes, the share of good fits.
    pub pass_value: f64,
    /// Of good fits, the share passed.
    pub specificity: f64,
    /// Of fails, the share of poor fits.
    pub fail_value: f64,
    /// Agreement beyond chance.
    pub kappa: f64,
}

impl Table {
    /// The five measures; `None` where one of them would divide by nothing.
    ///
    /// ```
    /// use bittersweet_core::accuracy::Table;
    /// let measures = Table { a: 48.0, b: 12.0, c: 2.0, d: 88.0 }.measures().unwrap();
    /// assert!((measures.kappa - 0.8).abs() < 1e-12);
    /// assert!(Table::default().measures().is_none());
    /// ```
    #[must_use]
    pub fn measures(&self) -> Option<Measures> {
        let Self { a, b, c, d } = *self;
        let all = a + b + c + d;
        let share = |part: f64, of: f64| (of > 0.0).then(|| part / of);
        let agreed = share(a + d, all)?;
        let by_chance = share((a + b) * (a + c) + (c + d) * (b + d), all * all)?;
        Some(Measures {
            sensitivity: share(a, a + c)?,
            pass_value: share(d, c + d)?,
            specificity: share(d, b + d)?,
            fail_value: share(a, a + b)?,
            kappa: share(agreed - by_chance, 1.0 - by_chance)?,
        })
    }
}

impl Measures {
    /// Whether all five published limits are met.
    #[must_use]
    pub fn meets_the_limits(&self) -> bool {
        self.sensitivity >= 0.95
            && self.pass_value >= 0.95
            && self.specificity > 0.5
            && self.fail_value > 0.5
            && self.kappa > 0.7
    }
}
