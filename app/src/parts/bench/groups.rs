//! Which acts lie where. An act may lie in more than one place, as on a real bench.

use crate::words::Word;
use bittersweet_core::{
    act::{
        Act, Aim, Company, Exercise, Hands, Manner, Method, NextStep, Phase, Reminder, Role, Threshold, Topic, Verdict,
    },
    scenario::Scenario,
};

/// Acts of a kind.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Group {
    /// Their heading.
    pub(crate) name: Word,
    /// In the order in which they lie.
    pub(crate) acts: Vec<Act>,
}

fn group(name: Word, acts: impl IntoIterator<Item = Act>) -> Group {
    Group { name, acts: acts.into_iter().collect() }
}

/// The groups of a phase.
pub(crate) fn groups(phase: Phase, scenario: &Scenario) -> Vec<Group> {
    match phase {
        Phase::Who => who(),
        Phase::Bench => vec![
            nebulizer(Word::GroupNebulizerOne, Role::Check),
            nebulizer(Word::GroupNebulizerTwo, Role::Fit),
            hood_and_hands(),
        ],
        Phase::Briefing => briefing(),
        Phase::Screening => screening(),
        Phase::Facepiece => facepiece(scenario),
        Phase::Test => test(),
        Phase::Result => result(),
        Phase::After => vec![after()],
    }
}

/// Where an act lies first; the guide opens that phase. `at` is the phase that lies open.
pub(crate) fn phase_of(act: Act, at: Phase, scenario: &Scenario) -> Phase {
    let lies_in = |phase: &Phase| {
        groups(*phase, scenario).iter().any(|group| group.acts.contains(&act))
            || (*phase == Phase::Result && matches!(act, Act::Record(_)))
    };
    if lies_in(&at) { at } else { Phase::ALL.iter().copied().find(|phase| lies_in(phase)).unwrap_or(at) }
}

fn who() -> Vec<Group> {
    vec![
        group(
            Word::GroupAsk,
            [
                Act::AskClearance,
                Act::ReadQuestionnaire,
                Act::ReturnQuestionnaire,
                Act::AskWell(Company::Private),
                Act::AskWell(Company::Public),
                Act::AskMouth,
                Act::AskGear,
                Act::AskWorkFacepiece,
            ],
        ),
        group(Word::GroupLook, [Act::LookAtFace, Act::ClearSeal, Act::CheckUse]),
    ]
}

fn nebulizer(name: Word, role: Role) -> Group {
    group(
        name,
        [
            Act::CheckNebulizer(role),
            Act::LabelNebulizer(role),
            Act::RinseNebulizer(role),
            Act::CheckBottle(role),
            Act::FreshBottle(role),
            Act::FillNebulizer(role),
            Act::TestSpray(role),
            Act::ClearNebulizer(role),
        ],
    )
}

fn hood_and_hands() -> Group {
    group(Word::GroupHoodAndHands, [Act::CheckHood, Act::WipeHood, Act::GlovesOn, Act::GlovesOff])
}

fn briefing() -> Vec<Group> {
    let topics = [Topic::Procedure, Topic::Duties, Topic::Exercises, Topic::MaskFails, Topic::Aim, Topic::Donning];
    vec![
        group(Word::GroupExplain, topics.map(Act::Explain)),
        group(Word::GroupHear, [Act::HearBack, Act::AgreeSignals, Act::CountAsTraining, Act::AdmitSecond]),
    ]
}

fn hood_and_nebulizer() -> Group {
    group(
        Word::GroupHood,
        [
            Act::HoodOn,
            Act::SetGap,
            Act::HoodOff,
            Act::Take(Role::Check),
            Act::Take(Role::Fit),
            Act::PutDown,
            Act::Aim(Aim::Away),
            Act::Aim(Aim::AtMouth),
        ],
    )
}

fn taste() -> Group {
    group(
        Word::GroupTaste,
        [Act::Ask(Manner::Neutral), Act::Ask(Manner::TowardsYes), Act::Ask(Manner::TowardsNo), Act::AnswerSignal],
    )
}

fn say() -> Group {
    group(Word::GroupSay, Reminder::ALL.iter().copied().map(Act::Remind))
}

fn screening() -> Vec<Group> {
    vec![
        hood_and_nebulizer(),
        taste(),
        group(Word::GroupThreshold, Threshold::ALL.iter().copied().map(Act::NoteThreshold)),
        say(),
        group(Word::GroupAfterScreening, [Act::Explain(Topic::Remember), Act::GiveWater, Act::WipeFace, Act::WipeHood]),
    ]
}

fn facepiece(scenario: &Scenario) -> Vec<Group> {
    let choose = [Act::GiveMirror, Act::LetChoose, Act::HoldToFace, Act::NoteRunnerUp];
    vec![
        group(Word::GroupChoose, choose),
        group(Word::GroupRack, scenario.slots().map(Act::HandOver)),
        group(
            Word::GroupBeforeDonning,
            [Act::InspectFacepiece, Act::Disinfect, Act::FitFilters, Act::SetNegative, Act::SetAside],
        ),
        group(
            Word::GroupOnTheFace,
            [
                Act::Don(Hands::Own),
                Act::Don(Hands::Helped),
                Act::CheckAdequacy,
                Act::FixStraps,
                Act::SeatMask,
                Act::SealCheck(Method::Both),
                Act::SealCheck(Method::Makers),
                Act::SealCheck(Method::Quick),
                Act::GearOn,
                Act::ReviewComfort,
                Act::Doff,
            ],
        ),
    ]
}

fn test() -> Vec<Group> {
    let exercises = Exercise::ALL.iter().copied().map(Act::Begin).chain([Act::End]);
    vec![
        hood_and_nebulizer(),
        group(Word::GroupExercises, exercises),
        taste(),
        say(),
        group(
            Word::GroupTrouble,
            [
                Act::CheckNebulizer(Role::Fit),
                Act::ClearNebulizer(Role::Fit),
                Act::ReviewComfort,
                Act::Doff,
                Act::CallHelp,
            ],
        ),
    ]
}

fn result() -> Vec<Group> {
    vec![
        group(Word::GroupResult, Verdict::all().map(Act::Give)),
        group(Word::GroupNext, NextStep::ALL.iter().copied().map(Act::Next)),
        group(
            Word::GroupTell,
            [Act::TellResult(Company::Private), Act::TellResult(Company::Public), Act::TellScope, Act::SignUntested],
        ),
    ]
}

fn after() -> Group {
    group(
        Word::GroupLeave,
        [
            Act::HoodOff,
            Act::Doff,
            Act::PutDown,
            Act::SetAside,
            Act::RestoreMode,
            Act::Disinfect,
            Act::WipeHood,
            Act::RinseNebulizer(Role::Check),
            Act::RinseNebulizer(Role::Fit),
            Act::Finish,
        ],
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use bittersweet_core::{scenarios::BUILT_IN, wire::scenario_v1};

    /// Acts that lie at hand in every phase, or are made by a form.
    fn lies_elsewhere(act: Act) -> bool {
        matches!(act, Act::Squeeze | Act::Stop | Act::Note(_) | Act::Wait(_) | Act::Record(_))
    }

    #[test]
    fn every_act_can_be_reached() {
        let (_, text) = BUILT_IN.first().unwrap();
        let scenario = scenario_v1::parse(text).unwrap();
        let lying: Vec<Act> =
            Phase::ALL.iter().flat_map(|phase| groups(*phase, &scenario)).flat_map(|group| group.acts).collect();
        let on_the_rack = |act: &Act| !matches!(act, Act::HandOver(slot) if scenario.facepiece(*slot).is_none());
        for act in Act::all().into_iter().filter(|act| !lies_elsewhere(*act)).filter(on_the_rack) {
            assert!(lying.contains(&act), "{act:?} lies nowhere");
        }
    }

    #[test]
    fn no_act_lies_twice_in_a_phase() {
        let (_, text) = BUILT_IN.first().unwrap();
        let scenario = scenario_v1::parse(text).unwrap();
        for phase in Phase::ALL.iter().copied() {
            let mut acts: Vec<Act> = groups(phase, &scenario).into_iter().flat_map(|group| group.acts).collect();
            let all = acts.len();
            acts.sort_unstable();
            acts.dedup();
            assert_eq!(acts.len(), all, "{phase:?}");
        }
    }
}
