//! What to practise next: what is weakest or least sure first, knowing and doing by turns.

use crate::{
    coded::coded,
    knowledge::Estimate,
    readiness::{Overview, Standing},
    source::Skill,
};

coded! {
    /// How something is practised.
    How {
        /// By questions.
        Questions = "questions",
        /// By drills.
        Drills = "drills",
        /// By a rehearsal.
        Rehearsal = "rehearsal",
    }
}

/// What to practise.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Next {
    /// Which skill needs it most.
    pub skill: Skill,
    /// How.
    pub how: How,
}

/// What to practise next, where `last` was practised last; `None` where all is known and there is readiness. Knowing and
/// doing take turns, beginning with doing; who is done with one of them goes on with the other.
#[must_use]
pub fn next(overview: &Overview, last: Option<How>) -> Option<Next> {
    let to_know = weakest_known(overview.skills.iter().map(|standing| (standing.skill, standing.known)));
    let to_do = weakest_shown(&overview.skills).filter(|_| overview.readiness.missing.is_some());
    let know = |skill: Skill| {
        // A drill asks for what can be seen in a log; two skills have some, and they take turns with questions.
        let drilled = matches!(skill, Skill::Screening | Skill::Result) && last != Some(How::Drills);
        Next { skill, how: if drilled { How::Drills } else { How::Questions } }
    };
    let (know, act) = (to_know.map(know), to_do.map(|skill| Next { skill, how: How::Rehearsal }));
    if last == Some(How::Rehearsal) { know.or(act) } else { act.or(know) }
}

/// The skill that is known least surely, of those that do not count as known yet; the first of several.
#[must_use]
pub fn weakest_known(known: impl Iterator<Item = (Skill, Estimate)>) -> Option<Skill> {
    let mut weakest: Option<(Skill, Estimate)> = None;
    for (skill, estimate) in known.filter(|(_, estimate)| !estimate.is_known()) {
        if weakest.is_none_or(|(_, least)| estimate.low < least.low) {
            weakest = Some((skill, estimate));
        }
    }
    weakest.map(|(skill, _)| skill)
}

/// The skill whose rules were kept least surely; the first of several. One rule kept and one broken are supposed before all, so
/// that what was never shown stands in the middle.
#[must_use]
fn weakest_shown(standings: &[Standing]) -> Option<Skill> {
    let kept = |standing: &&Standing| {
        let (kept, came_up) = (u64::from(standing.shown.kept), u64::from(standing.shown.came_up));
        (kept + 1) * 1_000 / (came_up + 2)
    };
    standings.iter().min_by_key(kept).map(|standing| standing.skill)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{knowledge::Guess, review::Tally, rulebook::Agent};

    fn known() -> Estimate {
        let mut estimate = Estimate::FIRST;
        for _ in 0..10 {
            estimate = estimate.after(true, Guess::one_of(4));
        }
        estimate
    }

    fn beginner() -> Overview {
        Overview::of(Agent::Sweet, &[], &[], 0)
    }

    /// Knows all, and is ready.
    fn done() -> Overview {
        let mut overview = beginner();
        overview.skills.iter_mut().for_each(|standing| standing.known = known());
        overview.readiness.missing = None;
        overview
    }

    #[test]
    fn a_beginner_rehearses_and_then_answers_by_turns() {
        let overview = beginner();
        let how = |last| next(&overview, last).map(|next| next.how);
        assert_eq!(how(None), Some(How::Rehearsal));
        assert_eq!(how(Some(How::Rehearsal)), Some(How::Questions));
        assert_eq!(how(Some(How::Questions)), Some(How::Rehearsal));
    }

    #[test]
    fn who_is_done_with_one_goes_on_with_the_other_and_who_is_done_with_both_rests() {
        assert_eq!(next(&done(), None), None);
        let mut knows = done();
        knows.readiness.missing = beginner().readiness.missing;
        let mut does = beginner();
        does.readiness.missing = None;
        for last in [None, Some(How::Rehearsal), Some(How::Questions), Some(How::Drills)] {
            assert_eq!(next(&knows, last).map(|next| next.how), Some(How::Rehearsal), "{last:?}");
            assert_eq!(next(&does, last).map(|next| next.how), Some(How::Questions), "{last:?}");
        }
    }

    #[test]
    fn the_weakest_skill_comes_first() {
        let mut overview = beginner();
        overview.skills[4].shown = Tally { kept: 1, came_up: 4 };
        overview.skills[6].shown = Tally { kept: 40, came_up: 50 };
        let skill = |overview: &Overview, last| next(overview, last).map(|next| next.skill);
        assert_eq!(skill(&overview, None), Some(Skill::Screening));
        overview.skills[6].shown = Tally { kept: 10, came_up: 50 };
        assert_eq!(skill(&overview, None), Some(Skill::Watching));
        for standing in &mut overview.skills {
            standing.known = standing.known.after(standing.skill != Skill::Briefing, Guess::one_of(4));
        }
        assert_eq!(skill(&overview, Some(How::Rehearsal)), Some(Skill::Briefing));
    }

    /// Kept once of once, a rule says less than kept nine times of ten: what is less sure comes first.
    #[test]
    fn what_was_shown_less_surely_comes_before_what_was_shown_often() {
        let mut overview = beginner();
        overview.skills.iter_mut().for_each(|standing| standing.shown = Tally { kept: 9, came_up: 10 });
        overview.skills[3].shown = Tally { kept: 1, came_up: 1 };
        assert_eq!(next(&overview, None).map(|next| next.skill), Some(Skill::Facepiece));
    }

    #[test]
    fn of_several_that_are_as_weak_the_first_comes_and_what_is_known_does_not() {
        let mut skills = beginner().skills;
        let weakest = |skills: &[Standing]| weakest_known(skills.iter().map(|one| (one.skill, one.known)));
        assert_eq!(weakest(&skills), Some(Skill::Solutions));
        skills[0].known = known();
        assert_eq!(weakest(&skills), Some(Skill::Eligibility));
        skills.iter_mut().for_each(|standing| standing.known = known());
        assert_eq!(weakest(&skills), None);
    }

    #[test]
    fn drills_and_questions_take_turns_where_there_are_both() {
        let mut overview = done();
        overview.skills[7].known = Estimate::FIRST;
        let how = |last| next(&overview, Some(last)).map(|next| next.how);
        assert_eq!(how(How::Questions), Some(How::Drills));
        assert_eq!(how(How::Drills), Some(How::Questions));
    }
}
