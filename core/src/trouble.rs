//! What can come up in a run, harmless things included, and when it does.

use crate::{act::Exercise, coded::coded, units::Ms};

coded! {
    /// A kind of trouble.
    Kind {
        /// A finger at the facepiece.
        TouchesMask = "touches-mask",
        /// A strap pulled tighter.
        AdjustsMask = "adjusts-mask",
        /// The facepiece slides by itself.
        MaskSlips = "mask-slips",
        /// The hood lifted for a look.
        LiftsHood = "lifts-hood",
        /// The hood taken off.
        TakesHoodOff = "takes-hood-off",
        /// The window slides near.
        HoodSlidesNear = "hood-slides-near",
        /// Sits down.
        SitsDown = "sits-down",
        /// Movements too fast.
        Rushes = "rushes",
        /// Talks too softly.
        Whispers = "whispers",
        /// Mouth shut.
        MouthShuts = "mouth-shuts",
        /// The nebulizer in use clogs, and it shows.
        Clogs = "clogs",
        /// The nebulizer in use clogs, and only a look at the tip shows it.
        ClogsUnseen = "clogs-unseen",
        /// A drop on the chin: a taste that is not a leak.
        DropOnFace = "drop-on-face",
        /// Tastes it before anything was sprayed.
        TastesBefore = "tastes-before",
        /// Salty, and gone when asked again.
        Salty = "salty",
        /// Salty, and it stays.
        SaltyStays = "salty-stays",
        /// Plastic.
        Plastic = "plastic",
        /// Tells a taste only after the hood is off.
        TellsLate = "tells-late",
        /// Shows a taste by half a gesture.
        HalfGesture = "half-gesture",
        /// Says yes to whatever is suggested.
        Pleases = "pleases",
        /// Out of breath.
        Breathless = "breathless",
        /// Chest pain.
        ChestPain = "chest-pain",
        /// Wheeze and swelling.
        Wheezes = "wheezes",
        /// Wants to stop.
        WantsToStop = "wants-to-stop",
        /// Harmless: scratches the forehead.
        Scratches = "scratches",
        /// Harmless: one cough.
        Coughs = "coughs",
        /// Harmless: a question.
        Asks = "asks",
        /// Harmless: the hood brushes a shoulder.
        HoodBrushes = "hood-brushes",
        /// Harmless: the window fogs.
        WindowFogs = "window-fogs",
        /// Harmless: a sip of water.
        SipsWater = "sips-water",
        /// Somebody wants a quick pass.
        Pressed = "pressed",
    }
}

/// When trouble comes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    /// With the hood on for screening, after so many squeezes (0: before the first).
    Screening(u8),
    /// With the hood on for the test, at the initial squeezes, after so many of them.
    Initial(u8),
    /// So long into an exercise.
    During(Exercise, Ms),
}

/// One piece of trouble.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Trouble {
    /// What.
    pub kind: Kind,
    /// When.
    pub when: When,
}
