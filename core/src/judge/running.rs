//! The fit test itself: squeezes, replenishments, exercises.

use super::{Case, Docket};
use crate::{
    act::{Act, Exercise, Reminder, Role, Verdict},
    attempt::{Done, FitTest, Squeeze},
    rulebook::RuleId,
    sign::Seen,
    state::About,
    units::Ms,
};

pub(super) fn judge(case: &Case<'_>, docket: &mut Docket) {
    for (about, test) in case.tests() {
        solution_and_hood(docket, about, test);
        if let Some(begun) = test.begun() {
            let counts = expected(case, test);
            if let Some((initial, half)) = counts {
                initial_squeezes(case, docket, about, test, begun, initial);
                replenishments(case, docket, about, test, begun, half);
            }
            exercises(case, docket, about, test);
            conduct(docket, about, test);
        }
    }
}

/// Squeezes of the initial set and of each replenishment, from the threshold noted or, where none was noted, from the
/// one that was shown.
fn expected(case: &Case<'_>, test: &FitTest) -> Option<(u32, u32)> {
    let screening = case.state.screenings.get(test.screening?)?;
    let shown = screening.tasted_after().and_then(|count| u32::try_from(count.max(1)).ok());
    let threshold = screening.threshold().or_else(|| shown.map(|count| case.book.class_at(count)))?;
    Some((case.book.initial(threshold)?, case.book.replenishment(threshold)?))
}

fn solution_and_hood(docket: &mut Docket, about: About, test: &FitTest) {
    let squeezes = &test.common.squeezes;
    let from = test.common.from;
    let wrong = squeezes.iter().find(|squeeze| squeeze.role == Role::Check);
    if !squeezes.is_empty() {
        docket.mark(RuleId::NebTest, wrong.map_or(from, |squeeze| squeeze.at), about, wrong.is_none());
    }
    let bare = squeezes.iter().find(|squeeze| !squeeze.hood).map(|squeeze| squeeze.at);
    let bare = bare.or((!test.hooded).then_some(from));
    docket.mark(RuleId::FitHood, bare.unwrap_or(from), about, bare.is_none());
}

/// Marks a set that should have had `due` whole squeezes.
fn set_of(
    docket: &mut Docket,
    about: About,
    at: Ms,
    set: &[Squeeze],
    due: u32,
    rules: (RuleId, RuleId),
) {
    let (short, over) = rules;
    let whole = count(set.iter().filter(|squeeze| squeeze.counts()).count());
    let pressed = count(set.len());
    if whole < due && pressed >= due {
        docket.broke(RuleId::FitSqueeze, at, about);
    } else if whole < due {
        docket.broke(short, at, about);
    } else if whole > due {
        docket.broke(over, at, about);
    } else {
        docket.kept(short, at, about);
    }
}

fn count(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}

/// Everything sprayed before the first replenishment could be meant.
fn initial_squeezes(case: &Case<'_>, docket: &mut Docket, about: About, test: &FitTest, begun: Ms, due: u32) {
    let numbers = &case.book.numbers;
    let until = begun.plus(numbers.replenish_lost);
    let set: Vec<Squeeze> = test.common.squeezes.iter().copied().filter(|squeeze| squeeze.at < until).collect();
    let at = set.last().map_or(begun, |squeeze| squeeze.at);
    let too_few = count(set.len()) < numbers.initial_minimum;
    let short = if too_few { RuleId::FitMinimum } else { RuleId::FitInitial };
    set_of(docket, about, at, &set, due, (short, RuleId::FitInitialOver));
}

/// One set of squeezes for each half minute, judged at its beginning.
fn replenishments(case: &Case<'_>, docket: &mut Docket, about: About, test: &FitTest, begun: Ms, half: u32) {
    let numbers = &case.book.numbers;
    let (every, lost, slack) = (numbers.replenish_every, numbers.replenish_lost, numbers.replenish_slack);
    let end = end_of_spraying(case, test);
    let sets = sets_of(&test.common.squeezes, begun.plus(lost), numbers.set_gap);
    let mut due = begun.plus(every);
    while due < end {
        let window = |set: &&Vec<Squeeze>| {
            set.first().is_some_and(|first| first.at >= due.since(lost) && first.at < due.plus(lost))
        };
        let here: Vec<Squeeze> = sets.iter().filter(window).flatten().copied().collect();
        match here.first() {
            Some(first) => {
                let off = first.at.since(due).max(due.since(first.at));
                docket.mark(RuleId::FitTopUpPrompt, first.at, about, off <= slack);
                docket.kept(RuleId::FitTopUp, first.at, about);
                set_of(docket, about, first.at, &here, half, (RuleId::FitHalf, RuleId::FitHalfOver));
            }
            // Not lost before its time was up.
            None if due.plus(lost) <= end => docket.broke(RuleId::FitTopUp, due.plus(lost), about),
            None => {}
        }
        due = due.plus(every);
    }
}

/// Up to when replenishments were due: until the exercises ended, or the test was decided before.
fn end_of_spraying(case: &Case<'_>, test: &FitTest) -> Ms {
    let ended = test.ended().unwrap_or(case.state.now);
    [test.taste(), test.hood_off, test.common.verdict.map(|(at, _)| at), test.common.closed]
        .into_iter()
        .flatten()
        .fold(ended, Ord::min)
}

/// Squeezes from `from` on, in sets with pauses longer than `gap` between them.
fn sets_of(squeezes: &[Squeeze], from: Ms, gap: Ms) -> Vec<Vec<Squeeze>> {
    let mut sets: Vec<Vec<Squeeze>> = Vec::new();
    for squeeze in squeezes.iter().copied().filter(|squeeze| squeeze.at >= from) {
        match sets.last_mut() {
            Some(set) if set.last().is_some_and(|last| squeeze.at.since(last.at) <= gap) => set.push(squeeze),
            _ => sets.push(vec![squeeze]),
        }
    }
    sets
}

fn exercises(case: &Case<'_>, docket: &mut Docket, about: About, test: &FitTest) {
    let house = case.book.house;
    let passed = test.common.verdict.filter(|(_, verdict)| *verdict == Verdict::Pass).map(|(at, _)| at);
    for done in &test.exercises {
        match done.exercise {
            Exercise::Grimace => docket.broke(RuleId::FitGrimace, done.from, about),
            Exercise::Jogging => docket.mark(RuleId::FitJog, done.from, about, house.jogging_for_bending),
            _ => {}
        }
    }
    let seven: Vec<(usize, &Done)> =
        test.exercises.iter().filter_map(|done| Some((place_of(done.exercise)?, done))).collect();
    let step_back = seven.windows(2).find_map(|pair| match pair {
        [(before, _), (after, done)] if after < before => Some(done.from),
        _ => None,
    });
    if let Some(at) = step_back {
        docket.broke(RuleId::FitOrder, at, about);
    } else if seven.len() > 1 {
        docket.kept(RuleId::FitOrder, test.common.from, about);
    }
    if let Some(at) = passed {
        let all = (0..Exercise::SEVEN.len()).all(|place| seven.iter().any(|(there, _)| *there == place));
        docket.mark(RuleId::FitAll, at, about, all);
    }
    for (number, done) in test.exercises.iter().enumerate() {
        let went_on = test.exercises.len() > number + 1 || passed.is_some();
        if went_on && done.exercise != Exercise::Grimace {
            length(case, docket, about, done);
        }
    }
}

fn place_of(exercise: Exercise) -> Option<usize> {
    let as_one_of_seven = if exercise == Exercise::Jogging { Exercise::Bending } else { exercise };
    Exercise::SEVEN.iter().position(|one| *one == as_one_of_seven)
}

fn length(case: &Case<'_>, docket: &mut Docket, about: About, done: &Done) {
    let numbers = &case.book.numbers;
    let Some(at) = done.to else { return };
    let length = at.since(done.from);
    if length < numbers.exercise_lost {
        docket.broke(RuleId::FitMinute, at, about);
    } else if length < numbers.exercise_slack {
        docket.kept(RuleId::FitMinute, at, about);
        docket.broke(RuleId::FitMinuteNear, at, about);
    } else {
        docket.kept(RuleId::FitMinute, at, about);
        docket.mark(RuleId::FitLong, at, about, length <= numbers.exercise_long);
    }
}

/// What the wearer did wrongly in an exercise, and whether it was put right while it lasted.
fn conduct(docket: &mut Docket, about: About, test: &FitTest) {
    let told = [
        (Seen::SitsDown, Reminder::Stand, RuleId::FitStanding),
        (Seen::RushesMoves, Reminder::Slowly, RuleId::FitEnds),
        (Seen::Whispers, Reminder::Louder, RuleId::FitAloud),
    ];
    for (seen, reminder, rule) in told {
        for (at, _) in test.common.signs.iter().filter(|(_, sign)| *sign == seen) {
            let until = test.exercises.iter().filter(|done| done.from <= *at).filter_map(|done| done.to).next_back();
            let said = test.common.acted(*at, |act| act == Act::Remind(reminder));
            let in_time = said.is_some_and(|said| until.is_none_or(|until| said <= until));
            docket.mark(rule, *at, about, in_time);
        }
    }
    if let (Some(ended), Some((at, Verdict::Pass))) = (test.ended(), test.common.verdict) {
        docket.before(RuleId::FitComfort, test.common.acted(ended, |act| act == Act::ReviewComfort), Some(at), about);
    }
}
