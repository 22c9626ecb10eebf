//! What the wearer is told and asked.

use super::{Case, Docket};
use crate::{
    act::{Act, Manner, Reminder, Topic},
    rulebook::RuleId,
    sign::Seen,
    state::About,
    units::Ms,
};

pub(super) fn judge(case: &Case<'_>, docket: &mut Docket) {
    let state = case.state;
    let told = |topic| state.first(Act::Explain(topic));
    let first_exercise = case.tests().find_map(|(_, test)| test.begun());
    let first_don = state.donnings.first().map(|donning| donning.at);
    let mut before = |rule, done, deadline| docket.before(rule, done, deadline, About::Day);
    before(RuleId::BriefProcedure, told(Topic::Procedure), case.screening_from());
    before(RuleId::BriefDuties, told(Topic::Duties), first_exercise);
    before(RuleId::BriefExercises, told(Topic::Exercises), first_exercise);
    before(RuleId::BriefAim, told(Topic::Aim), first_don);
    before(RuleId::BriefDonning, told(Topic::Donning), first_don);
    before(RuleId::BriefMirror, state.first(Act::GiveMirror), first_don);
    before(RuleId::BriefBack, heard_back(case), first_exercise);
    before(RuleId::BriefSignals, state.first(Act::AgreeSignals), case.hood_from());
    before(RuleId::BriefMaskFails, told(Topic::MaskFails), first_exercise);
    before(RuleId::BriefRemember, told(Topic::Remember), case.test_from());
    if let Some(at) = state.first(Act::CountAsTraining) {
        docket.broke(RuleId::TrainingApart, at, About::Day);
    }
    breathing(case, docket);
    questions(case, docket);
}

/// When the duties were heard back: a nod is no answer, and asks for a second try.
fn heard_back(case: &Case<'_>) -> Option<Ms> {
    match case.state.shown_last(Seen::NodsOnly) {
        None => case.state.first(Act::HearBack),
        Some(nodded) => case.acted_from(nodded, |act| act == Act::Explain(Topic::Duties)),
    }
}

/// Before each first squeeze the wearer has been told how to breathe.
fn breathing(case: &Case<'_>, docket: &mut Docket) {
    let told = [Act::Remind(Reminder::Breathing), Act::Explain(Topic::Duties)];
    let told = told.into_iter().filter_map(|act| case.state.first(act)).min();
    let attempts = case
        .screenings()
        .map(|(about, screening)| (about, &screening.common))
        .chain(case.tests().map(|(about, test)| (about, &test.common)));
    for (about, common) in attempts {
        let Some(first) = common.squeezes.first() else { continue };
        docket.before(RuleId::BriefTongue, told, Some(first.at), about);
    }
}

fn questions(case: &Case<'_>, docket: &mut Docket) {
    for (about, common) in case
        .screenings()
        .map(|(about, screening)| (about, &screening.common))
        .chain(case.tests().map(|(about, test)| (about, &test.common)))
    {
        for question in &common.questions {
            docket.mark(RuleId::AskLeading, question.at, about, question.manner == Manner::Neutral);
        }
        let leading = common.questions.iter().any(|question| question.manner != Manner::Neutral);
        if let (true, About::Test(_), Some(at)) = (leading, about, common.passed()) {
            docket.broke(RuleId::AskLeadingPass, at, about);
        }
    }
}
