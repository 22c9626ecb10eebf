//! The classes that say what a stroke is made of. What each looks like is in the style sheet, by day, by night and in
//! forced colours; no colour is named here.

use bittersweet_core::{rulebook::Agent, scenario::Look};

/// A bare line.
pub(super) const LINE: &str = "line";
/// A line that lies on skin, and stays dark by night.
pub(super) const FEATURE: &str = "feature";
/// A filled mark on skin: brow, iris, open mouth.
pub(super) const DARK: &str = "dark";
/// A gap where a seal should be.
pub(super) const VOID: &str = "void";
/// Skin with an outline.
pub(super) const SKIN: &str = "skin";
/// Skin without one, to cover a line.
pub(super) const BARE: &str = "bare";
/// The conductor's skin.
pub(super) const SKIN_OTHER: &str = "skin-other";
/// The white of an eye.
pub(super) const EYE: &str = "eye";
/// Hair with an outline.
pub(super) const HAIR: &str = "hair";
/// Hair of the face, where a seal would lie: dark-lined by day and by night.
pub(super) const WHISKERS: &str = "hair whiskers";
/// Lines within hair.
pub(super) const LOCKS: &str = "locks";
/// Single short hairs.
pub(super) const BRISTLES: &str = "bristles";
/// Tongue.
pub(super) const TONGUE: &str = "tongue";
/// Work clothes.
pub(super) const CLOTH: &str = "cloth";
/// A head covering.
pub(super) const WRAP: &str = "wrap";
/// The conductor's sleeve, the cup, paper.
pub(super) const PLAIN: &str = "plain";
/// Facepieces, straps and other gear.
pub(super) const KIT: &str = "kit";
/// The same with a hole.
pub(super) const KIT_RING: &str = "kit ring";
/// The darker parts of gear.
pub(super) const DEEP: &str = "deep";
/// What is seen through.
pub(super) const GLASS: &str = "glass";
/// The hood's window.
pub(super) const CLEAR: &str = "clear";
/// The hood's cloth, which lets a little through.
pub(super) const FABRIC: &str = "fabric";
/// The same with a hole.
pub(super) const FABRIC_RING: &str = "fabric ring";
/// Breath on the window.
pub(super) const FOG: &str = "fog";
/// Tinted by the agent of the day.
pub(super) const AGENT: &str = "agent";
/// Fine drops in the air.
pub(super) const MIST: &str = "mist";
/// A puff as it leaves the tip.
pub(super) const SPRAY: &str = "spray";
/// What is not there: an empty place.
pub(super) const ABSENT: &str = "absent";
/// Wood.
pub(super) const BOARD: &str = "board";
/// A hose: outside, inside, ribs.
pub(super) const HOSE: [&str; 3] = ["hose", "hose inside", "hose rib"];

/// Skin that has gone grey, in the whole picture.
pub(super) const ASHEN: &str = "ashen";

/// The class of the whole picture, which sets the tint.
pub(super) const fn tint(agent: Agent) -> &'static str {
    match agent {
        Agent::Sweet => "sweet",
        Agent::Bitter => "bitter",
    }
}

/// Tone of the skin.
pub(super) const fn skin(look: Look) -> &'static str {
    match look.skin {
        0 => "skin-0",
        1 => "skin-1",
        2 => "skin-2",
        3 => "skin-3",
        4 => "skin-4",
        _ => "skin-5",
    }
}

/// Colour of the hair, which goes with style and skin so that no two of a kind look alike.
pub(super) const fn hair(look: Look) -> &'static str {
    match (look.hair, look.skin) {
        (1, _) | (4, 3..) => "hair-grey",
        (2, 0) => "hair-red",
        (4, 0 | 1) => "hair-fair",
        (0, 0 | 1) | (2, 1 | 2) | (4, 2) => "hair-brown",
        _ => "hair-black",
    }
}
