//! Everything found wrong in the data, kept until all of it has been read.

/// A list of complaints, each naming file, entry and field.
#[derive(Default)]
pub(crate) struct Faults(pub(crate) Vec<String>);

impl Faults {
    /// Notes that something in `place` is wrong.
    pub(crate) fn push(&mut self, place: &str, what: &str) {
        self.0.push(format!("{place}: {what}"));
    }

    /// Prints all complaints and says whether there were any.
    pub(crate) fn report(&self) -> bool {
        for fault in &self.0 {
            println!("cargo::error={fault}");
        }
        !self.0.is_empty()
    }
}
