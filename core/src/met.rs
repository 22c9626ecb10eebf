//! What came up in a run and what was there to be found, for the review after it: never shown while it goes on.

use crate::{
    facepiece::{Condition, Filters, Straps},
    ordered,
    scenario::{Clearance, Contents, Face, Level, Nebulizer, Scenario},
    sign::{Mouthful, Sign},
    state::State,
    trouble::{Kind, Moment},
    units::Ms,
};

/// One thing that came up, or was there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Met {
    /// What.
    pub kind: Kind,
    /// When it first showed; `None` where it was there and was never looked at.
    pub at: Option<Ms>,
}

/// Everything that came up, in the order in which it showed, and then what was there and never found.
#[must_use]
pub fn met(scenario: &Scenario, state: &State) -> Vec<Met> {
    let refill_within = scenario.rulebook().numbers.refill_within;
    let shown = |kind: Kind| {
        let signs = state.signs.iter();
        signs.filter(|(sign, _)| shows(kind, **sign, refill_within)).map(|(_, (first, _))| *first).min()
    };
    let happened = scenario
        .trouble
        .iter()
        .filter(|trouble| !trouble.kind.entry().arises.contains(&Moment::Found))
        .filter_map(|trouble| Some(Met { kind: trouble.kind, at: Some(shown(trouble.kind)?) }));
    let mut all: Vec<Met> =
        found(scenario).into_iter().map(|kind| Met { kind, at: shown(kind) }).chain(happened).collect();
    ordered::order(&mut all, |met| met.at.map_or(u64::MAX, |at| at.0.into()));
    all.dedup_by_key(|met| met.kind);
    all
}

fn shows(kind: Kind, sign: Sign, refill_within: Ms) -> bool {
    let named = kind.entry().shows.contains(&sign.code().0);
    // What was by mouth is told in one sign, whatever it was; so are the hours since a filling, however few.
    named
        && match sign {
            Sign::ByMouth(what, _) => by_mouth(what) == Some(kind),
            Sign::FilledAgo(hours) => is_overdue(hours, refill_within),
            Sign::Seen(_)
            | Sign::WearsAtWork(_)
            | Sign::FacepieceAtWork(_)
            | Sign::Chooses(_)
            | Sign::ExposureTimes(_) => true,
        }
}

fn is_overdue(hours: u8, refill_within: Ms) -> bool {
    Ms::mins(60).times(u32::from(hours)) > refill_within
}

const fn by_mouth(what: Mouthful) -> Option<Kind> {
    match what {
        Mouthful::Nothing | Mouthful::Meal => None,
        Mouthful::Water => Some(Kind::DrankWater),
        Mouthful::Coffee => Some(Kind::Coffee),
        Mouthful::Sweets => Some(Kind::Sweets),
        Mouthful::Gum => Some(Kind::Gum),
        Mouthful::Tobacco => Some(Kind::Tobacco),
        Mouthful::Numb => Some(Kind::NumbMouth),
    }
}

/// What was so when the run began.
fn found(scenario: &Scenario) -> Vec<Kind> {
    let person = &scenario.person;
    let mut found = Vec::new();
    found.extend(match person.clearance {
        Clearance::Cleared => None,
        Clearance::ClearedLongAgo => Some(Kind::ClearanceLongAgo),
        Clearance::NotCleared => Some(Kind::NoClearance),
        Clearance::PoweredOnly => Some(Kind::PoweredOnly),
        Clearance::Questionnaire => Some(Kind::Questionnaire),
    });
    found.extend((!person.well).then_some(Kind::NotToday));
    found.extend(by_mouth(person.by_mouth.0));
    found.extend(match person.face {
        Face::Clear => None,
        Face::Moustache => Some(Kind::Moustache),
        Face::Stubble => Some(Kind::Stubble),
        Face::Beard => Some(Kind::Beard),
        Face::TempleBar => Some(Kind::TempleBar),
        Face::Covering => Some(Kind::Covering),
    });
    found.extend(scenario.is_beyond_this_test().then_some(Kind::BeyondLimit));
    found.extend((!person.gear.is_empty()).then_some(Kind::GlassesInPocket));
    found.extend(person.tastes_after.is_none().then_some(Kind::CannotTaste));
    let refill_within = scenario.rulebook().numbers.refill_within;
    for (nebulizer, own) in [(&scenario.bench.check, Contents::Check), (&scenario.bench.fit, Contents::Fit)] {
        found.extend(at_the_bench(nebulizer, own, refill_within));
    }
    found.extend(scenario.bench.hood_damp.then_some(Kind::DampHood));
    found.extend(first_piece(scenario));
    found
}

fn at_the_bench(nebulizer: &Nebulizer, own: Contents, refill_within: Ms) -> Vec<Kind> {
    let mut found = Vec::new();
    match nebulizer.holds {
        Contents::OtherAgent => found.push(Kind::OtherAgentsSolution),
        holds if holds != own => found.push(Kind::Swapped),
        Contents::Check | Contents::Fit => {}
    }
    found.extend((!nebulizer.marked).then_some(Kind::Unmarked));
    found.extend((nebulizer.level == Level::Low).then_some(Kind::Low));
    found.extend(is_overdue(nebulizer.filled_h_ago, refill_within).then_some(Kind::Overdue));
    found.extend(nebulizer.clogged.then_some(Kind::Clogged));
    found.extend((!nebulizer.bottle_dated).then_some(Kind::Undated));
    found
}

/// What there was to find on the facepiece that the wearer came to first; of the others the run may say nothing.
fn first_piece(scenario: &Scenario) -> Vec<Kind> {
    let slot = scenario.person.at_work.or(scenario.person.choices.first().copied());
    let Some(piece) = slot.and_then(|slot| scenario.facepiece(slot)) else { return vec![Kind::TooFew] };
    let mut found = Vec::new();
    found.extend(match piece.condition {
        Condition::Sound => None,
        Condition::ValveMissing => Some(Kind::ValveMissing),
        Condition::FilterAskew => Some(Kind::FilterAskew),
        Condition::StrapCracked => Some(Kind::StrapCracked),
    });
    found.extend(match piece.straps {
        Straps::Even => None,
        Straps::Twisted => Some(Kind::StrapTwisted),
        Straps::Tight => Some(Kind::StrapsTight),
        Straps::NosepieceFlat => Some(Kind::NosepieceFlat),
    });
    found.extend((piece.filters == Filters::GasOnly).then_some(Kind::GasOnly));
    found.extend(piece.class.is_positive().then_some(Kind::AirSupplied));
    found.extend(piece.used.then_some(Kind::Shared));
    found.extend((!piece.comfortable).then_some(Kind::Uncomfortable));
    found.extend((!piece.seal_holds).then_some(Kind::SealLeaks));
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{act::Act, log::Entry, rulebook::Agent, unannounced};

    #[test]
    fn what_is_planted_is_met_again() {
        // Of these the run itself tells when they showed, or whether they were there cannot be told from the scenario alone.
        let happen = |kind: Kind| !kind.entry().arises.contains(&Moment::Found);
        let elsewhere = [Kind::OtherFacepiece, Kind::TastesAtOnce, Kind::TastesAtEleven];
        for kind in Kind::ALL.iter().copied().filter(|kind| !happen(*kind) && !elsewhere.contains(kind)) {
            let scenario = unannounced::with(Agent::Sweet, 3, kind).unwrap();
            let met = met(&scenario, &State::new(Agent::Sweet));
            assert!(met.iter().any(|one| one.kind == kind && one.at.is_none()), "{kind:?}: {met:?}");
        }
    }

    #[test]
    fn what_was_looked_at_has_its_moment() {
        let scenario = unannounced::with(Agent::Sweet, 3, Kind::Stubble).unwrap();
        let stubble = Sign::Seen(crate::sign::Seen::FaceStubble);
        let log = [Entry::act(Ms::secs(9), Act::LookAtFace), Entry::sign(Ms::secs(9), stubble)];
        let met = met(&scenario, &State::of(Agent::Sweet, &log));
        assert!(met.contains(&Met { kind: Kind::Stubble, at: Some(Ms::secs(9)) }), "{met:?}");
    }
}
