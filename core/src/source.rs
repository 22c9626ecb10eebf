//! Where a rule comes from, and how much weight it carries.

use crate::coded::coded;

coded! {
    /// On what a rule rests.
    Basis {
        /// The regulation says it.
        Text = "text",
        /// A published letter of interpretation says it.
        Letter = "letter",
        /// Our reading of the protocol, or common practice.
        Ours = "ours",
    }
}

coded! {
    /// How the source reached the rulebook.
    Reading {
        /// Read in a stored copy of the public document.
        Read = "read",
        /// Known, and not borne out by a copy that was read: check it against the current text before leaning on it.
        Memory = "memory",
        /// A fact of the trade without a source.
        Practice = "practice",
    }
}

coded! {
    /// What breaking a rule does, gravest first.
    Gravity {
        /// Puts somebody at risk.
        Endangers = "endangers",
        /// The result of the attempt cannot stand.
        Spoils = "spoils",
        /// Off the procedure; the result still stands.
        Departure = "departure",
        /// Good practice missed.
        Good = "good",
    }
}

impl Gravity {
    /// Whether a result issued all the same is wrong, or somebody was put at risk.
    #[must_use]
    pub const fn is_top(self) -> bool {
        matches!(self, Self::Endangers | Self::Spoils)
    }
}

coded! {
    /// Which wrong answer a breach makes likelier.
    Push {
        /// A leaking mask is passed.
        FalsePass = "fp",
        /// A fitting mask is failed.
        FalseFail = "ff",
        /// Neither.
        Neither = "none",
    }
}

coded! {
    /// The eight skills that are scored; they follow what App. A I.B.1(a) asks of whoever runs the test.
    Skill {
        /// Solutions and equipment.
        Solutions = "solutions",
        /// Who and what may be tested.
        Eligibility = "eligibility",
        /// Briefing the wearer.
        Briefing = "briefing",
        /// Choosing and fitting the facepiece.
        Facepiece = "facepiece",
        /// Taste screening.
        Screening = "screening",
        /// Running the test.
        Running = "running",
        /// Watching and stopping.
        Watching = "watching",
        /// Result, next step and record.
        Result = "result",
    }
}
