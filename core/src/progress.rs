//! How each skill went over time, with one agent: what was shown in runs and what was answered, week by week or month by month.
//!
//! The two are counted side by side and never added up, and a run counts for what it counts in [`crate::readiness`]. Nothing
//! here says what is good enough.

use crate::{
    coded::coded,
    evidence::Evidence,
    next::How,
    question::choose::Day,
    readiness::needs_real_pace,
    review::Tally,
    rulebook::Agent,
    source::Skill,
    wire::{
        answer_v1::{AnswerV1, Asked},
        outcome_v1::OutcomeV1,
    },
};

coded! {
    /// How long a period is.
    Step {
        /// From Monday on.
        Week = "week",
        /// A calendar month.
        Month = "month",
    }
}

/// So many periods are shown, the latest ones. What is older by weeks is shown by months; what is older still, in no chart.
pub const MOST: usize = 26;

impl Step {
    /// The first day of the period in which a day lies.
    ///
    /// ```
    /// use bittersweet_core::progress::Step;
    /// // 26 November 2026 is a Thursday.
    /// assert_eq!(Step::Week.start(20_783), 20_780);
    /// assert_eq!(Step::Month.start(20_783), 20_758);
    /// ```
    #[must_use]
    pub const fn start(self, day: Day) -> Day {
        match self {
            // 1 January 1970 was a Thursday.
            Self::Week => day.saturating_sub(day.saturating_add(3) % 7),
            Self::Month => day.saturating_sub(in_month(day)),
        }
    }
}

/// How many days of its month lie before a day. Months are counted from March on, so that the leap day is a year's last; after
/// Howard Hinnant's `civil_from_days`.
const fn in_month(day: Day) -> u32 {
    // Days since 1 March of the year 0, within 400 years.
    let of_era = day.saturating_add(719_468) % 146_097;
    let year = (of_era - of_era / 1_460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year + year / 4 - year / 100);
    let month = (5 * of_year + 2) / 153;
    of_year - (153 * month + 2) / 5
}

/// What there is of one skill from one period.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Point {
    /// In runs: how often its rules came up, and were kept.
    pub shown: Tally,
    /// Answers to questions and drills, and those of them that were wholly right.
    pub answered: Tally,
}

/// How the skills went, period by period.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Course {
    /// How long the periods are.
    pub step: Step,
    /// The first day of each, oldest first; the last is the period in which today lies. Empty where there is nothing.
    pub starts: Vec<Day>,
    /// The eight skills in the order of [`Skill::ALL`], each with a point for each period.
    pub skills: Vec<(Skill, Vec<Point>)>,
}

/// The course with `agent` up to the day `today`. What is dated later, by a clock that was set back, is left out.
#[must_use]
pub fn course(agent: Agent, answers: &[AnswerV1], outcomes: &[OutcomeV1], today: Day) -> Course {
    let runs = || {
        let of_agent = outcomes.iter().filter(move |outcome| outcome.evidence.agent == agent && outcome.day <= today);
        of_agent.filter(|outcome| outcome.evidence.whole && outcome.evidence.is_unaided())
    };
    let given = || answers.iter().filter(move |answer| answer.agent == agent && answer.day <= today);
    let first = runs().map(|run| run.day).chain(given().map(|answer| answer.day)).min();
    let (step, starts) = first.map_or((Step::Week, Vec::new()), |first| periods(first, today));
    let mut skills: Vec<(Skill, Vec<Point>)> =
        Skill::ALL.iter().map(|skill| (*skill, vec![Point::default(); starts.len()])).collect();
    let place = |day: Day| starts.partition_point(|start| *start <= day).checked_sub(1);
    for run in runs() {
        let Some(place) = place(run.day) else { continue };
        for ((skill, points), tally) in skills.iter_mut().zip(&run.evidence.skills) {
            if let Some(point) = points.get_mut(place).filter(|_| shows(&run.evidence, *skill)) {
                point.shown.kept = point.shown.kept.saturating_add(tally.kept);
                point.shown.came_up = point.shown.came_up.saturating_add(tally.came_up);
            }
        }
    }
    for answer in given() {
        let points = skills.iter_mut().find(|(skill, _)| *skill == answer.skill);
        if let Some((point, right)) = place(answer.day)
            .and_then(|place| points?.1.get_mut(place))
            .map(|point| (point, u32::from(answer.credit.is_whole())))
        {
            point.answered.kept = point.answered.kept.saturating_add(right);
            point.answered.came_up = point.answered.came_up.saturating_add(1);
        }
    }
    Course { step, starts, skills }
}

/// Whether a whole run without help shows this skill.
const fn shows(evidence: &Evidence, skill: Skill) -> bool {
    evidence.real_pace || !needs_real_pace(skill)
}

/// The periods from the one of `first` to the one of `today`: weeks where so many do, else the latest months.
fn periods(first: Day, today: Day) -> (Step, Vec<Day>) {
    let back = |step: Step| {
        std::iter::successors(Some(step.start(today)), move |start| Some(step.start(start.checked_sub(1)?)))
            .take_while(move |start| *start >= step.start(first))
    };
    let step = if back(Step::Week).take(MOST + 1).count() <= MOST { Step::Week } else { Step::Month };
    let mut starts: Vec<Day> = back(step).take(MOST).collect();
    starts.reverse();
    (step, starts)
}

/// How was practised last: what comes next takes turns with it. Of one day, a run goes before answers.
#[must_use]
pub fn last(agent: Agent, answers: &[AnswerV1], outcomes: &[OutcomeV1]) -> Option<How> {
    let run = outcomes.iter().filter(|outcome| outcome.evidence.agent == agent).map(|outcome| outcome.day).max();
    let answer = answers.iter().rfind(|answer| answer.agent == agent);
    let day = answer.map(|answer| answer.day);
    if run.is_some() && run >= day {
        return Some(How::Rehearsal);
    }
    answer.map(|answer| match answer.asked {
        Asked::Question => How::Questions,
        Asked::Drill => How::Drills,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{question::mark::Credit, wire::run_v1::Help};

    const TODAY: Day = 20_783;

    /// Worked out with Python's `datetime`: a day, the first of its month, the Monday of its week.
    #[test]
    fn months_and_weeks_begin_where_the_calendar_has_them() {
        for (day, month, monday) in [
            (31, 31, 25),
            (11_016, 10_988, 11_015),
            (11_017, 11_017, 11_015),
            (19_782, 19_754, 19_779),
            (19_783, 19_783, 19_779),
            (20_783, 20_758, 20_780),
            (20_818, 20_788, 20_815),
            (20_819, 20_819, 20_815),
            (47_540, 47_513, 47_534),
            (47_541, 47_541, 47_541),
        ] {
            assert_eq!((Step::Month.start(day), Step::Week.start(day)), (month, monday), "{day}");
        }
        assert_eq!(Step::Month.start(u32::MAX).checked_add(31), None, "no day is too late");
    }

    #[test]
    fn a_month_is_from_28_to_31_days_long_and_twelve_are_a_year() {
        let starts: Vec<Day> = (0..30_000).filter(|day| Step::Month.start(*day) == *day).collect();
        assert!(starts.windows(2).all(|pair| (28..=31).contains(&(pair[1] - pair[0]))));
        assert!(starts.windows(13).all(|year| (365..=366).contains(&(year[12] - year[0]))));
    }

    #[test]
    fn nothing_has_no_periods() {
        let course = course(Agent::Sweet, &[], &[], TODAY);
        assert!(course.starts.is_empty() && course.skills.iter().all(|(_, points)| points.is_empty()));
        assert_eq!(course.skills.len(), 8);
    }

    #[test]
    fn what_was_done_stands_in_its_week_and_a_week_of_rest_is_seen() {
        let answers = [answer(TODAY - 14, Skill::Result, true), answer(TODAY - 14, Skill::Result, false)];
        let course = course(Agent::Sweet, &answers, &[run(TODAY)], TODAY);
        assert_eq!((course.step, course.starts.as_slice()), (Step::Week, &[20_766, 20_773, 20_780][..]));
        let (skill, points) = &course.skills[7];
        assert_eq!(*skill, Skill::Result);
        let (none, shown) = (Tally::default(), Tally { kept: 3, came_up: 4 });
        let answered = Tally { kept: 1, came_up: 2 };
        let wanted = [(none, answered), (none, none), (shown, none)];
        assert_eq!(points.iter().map(|point| (point.shown, point.answered)).collect::<Vec<_>>(), wanted);
    }

    #[test]
    fn longer_than_half_a_year_is_shown_by_months_and_two_years_at_most() {
        let step = |first| {
            let course = course(Agent::Sweet, &[answer(first, Skill::Result, true)], &[], TODAY);
            (course.step, course.starts.len(), course.starts.last().copied())
        };
        assert_eq!(step(TODAY), (Step::Week, 1, Some(20_780)));
        assert_eq!(step(20_780 - 25 * 7), (Step::Week, 26, Some(20_780)));
        assert_eq!(step(20_780 - 25 * 7 - 1), (Step::Month, 7, Some(20_758)));
        assert_eq!(step(TODAY - 5_000), (Step::Month, MOST, Some(20_758)));
    }

    #[test]
    fn a_run_shows_what_it_exercised_and_with_help_nothing() {
        let count = |change: &dyn Fn(&mut OutcomeV1), skill: usize| {
            let mut run = run(TODAY);
            change(&mut run);
            let course = course(Agent::Sweet, &[], &[run], TODAY);
            course.skills[skill].1.iter().map(|point| point.shown.came_up).sum::<u32>()
        };
        assert_eq!((count(&|_| {}, 0), count(&|_| {}, 5)), (4, 4));
        let hurried = |run: &mut OutcomeV1| run.evidence.real_pace = false;
        assert_eq!((count(&hurried, 0), count(&hurried, 5), count(&hurried, 6)), (4, 0, 0));
        assert_eq!(count(&|run| run.evidence.help = Help::Guided, 0), 0);
        assert_eq!(count(&|run| run.evidence.hints = 1, 0), 0);
        assert_eq!(count(&|run| run.evidence.whole = false, 0), 0);
        assert_eq!(count(&|run| run.evidence.agent = Agent::Bitter, 0), 0);
        assert_eq!(count(&|run| run.day = TODAY + 1, 0), 0, "a clock was set back");
    }

    #[test]
    fn turns_are_taken_with_what_was_practised_last() {
        let of = |answers: &[AnswerV1], outcomes: &[OutcomeV1]| last(Agent::Sweet, answers, outcomes);
        assert_eq!(of(&[], &[]), None);
        let (question, run) = (answer(TODAY, Skill::Result, true), run(TODAY));
        let drill = AnswerV1 { asked: Asked::Drill, ..question.clone() };
        assert_eq!(of(std::slice::from_ref(&question), &[]), Some(How::Questions));
        assert_eq!(of(&[question.clone(), drill], &[]), Some(How::Drills));
        assert_eq!(of(std::slice::from_ref(&question), std::slice::from_ref(&run)), Some(How::Rehearsal));
        let later = AnswerV1 { day: TODAY + 1, ..question };
        assert_eq!(of(std::slice::from_ref(&later), std::slice::from_ref(&run)), Some(How::Questions));
        assert_eq!(last(Agent::Bitter, &[later], &[run]), None);
    }

    fn answer(day: Day, skill: Skill, right: bool) -> AnswerV1 {
        let credit = Credit { got: u8::from(right), of: 1 };
        let (asked, id) = (Asked::Question, "one".to_owned());
        AnswerV1 { asked, id, revision: 1, skill, agent: Agent::Sweet, credit, day }
    }

    fn run(day: Day) -> OutcomeV1 {
        OutcomeV1::made_up(Agent::Sweet, day, Vec::new())
    }
}
