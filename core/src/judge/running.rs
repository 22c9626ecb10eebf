//! The fit test itself: squeezes, replenishments, exercises.

use super::{Case, Docket};
use crate::{
    act::{Act, Exercise, Reminder, Role},
    attempt::{Done, FitTest, Squeeze},
    rounds::{self, Round},
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
                replenishments(case, docket, about, test, half);
            }
            exercises(case, docket, about, test);
            conduct(case, docket, about, test);
        }
    }
}

/// Squeezes of the initial set and of each replenishment, from the threshold that this test was counted from.
fn expected(case: &Case<'_>, test: &FitTest) -> Option<(u32, u32)> {
    let threshold = case.state.counted_from(case.book, test)?;
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
    // Without a facepiece the hood is over nothing that could be tested.
    let bare = bare.or((!test.hooded || test.donning.is_none()).then_some(from));
    docket.mark(RuleId::FitHood, bare.unwrap_or(from), about, bare.is_none());
}

/// Marks a set that should have had `due` whole squeezes.
fn set_of(docket: &mut Docket, about: About, at: Ms, set: &[Squeeze], due: u32, rules: (RuleId, RuleId)) {
    let (short, over) = rules;
    let whole = rounds::whole(set);
    let pressed = rounds::count(set.len());
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

/// The initial set, and how soon the first exercise followed.
fn initial_squeezes(case: &Case<'_>, docket: &mut Docket, about: About, test: &FitTest, begun: Ms, due: u32) {
    let numbers = &case.book.numbers;
    let until = begun.plus(numbers.replenish_lost);
    let set = rounds::initial(numbers, test, due).map(|round| round.given).unwrap_or_default();
    let at = set.last().map_or(begun, |squeeze| squeeze.at);
    let too_few = rounds::count(set.len()) < numbers.initial_minimum;
    let short = if too_few { RuleId::FitMinimum } else { RuleId::FitInitial };
    // A test decided on before the first replenishment could still have had its squeezes.
    if rounds::end(case.state, test) >= until || rounds::whole(&set) >= due {
        if !too_few {
            docket.kept(RuleId::FitMinimum, at, about);
        }
        set_of(docket, about, at, &set, due, (short, RuleId::FitInitialOver));
    }
    // The first exercise follows on the squeezes: meanwhile the level falls as it does between replenishments.
    if let Some(last) = set.iter().rfind(|squeeze| squeeze.at <= begun) {
        let idle = begun.since(last.at);
        if idle > numbers.replenish_lost {
            docket.broke(RuleId::FitStart, begun, about);
        } else {
            docket.kept(RuleId::FitStart, begun, about);
            docket.mark(RuleId::FitStartPrompt, begun, about, idle <= numbers.replenish_slack);
        }
    }
}

/// One set of squeezes for each half minute, judged at its beginning.
fn replenishments(case: &Case<'_>, docket: &mut Docket, about: About, test: &FitTest, half: u32) {
    let numbers = &case.book.numbers;
    let (lost, slack) = (numbers.replenish_lost, numbers.replenish_slack);
    let end = rounds::end(case.state, test);
    for Round { due, given } in rounds::later(numbers, test, end) {
        match given.first() {
            Some(first) => {
                let off = first.at.since(due).max(due.since(first.at));
                docket.mark(RuleId::FitTopUpPrompt, first.at, about, off <= slack);
                docket.kept(RuleId::FitTopUp, first.at, about);
                // A set in the middle of which the test was decided is no short one.
                if due.plus(lost) <= end || rounds::whole(&given) >= half {
                    set_of(docket, about, first.at, &given, half, (RuleId::FitHalf, RuleId::FitHalfOver));
                }
            }
            // Not lost before its time was up.
            None if due.plus(lost) <= end => docket.broke(RuleId::FitTopUp, due.plus(lost), about),
            None => {}
        }
    }
}

fn exercises(case: &Case<'_>, docket: &mut Docket, about: About, test: &FitTest) {
    let house = case.book.house;
    let passed = test.common.passed();
    for done in &test.exercises {
        if done.exercise == Exercise::Grimace {
            docket.broke(RuleId::FitGrimace, done.from, about);
        } else if done.exercise == Exercise::Jogging {
            docket.mark(RuleId::FitJog, done.from, about, house.jogging_for_bending);
        }
    }
    let seven: Vec<(usize, &Done)> =
        test.exercises.iter().filter_map(|done| Some((done.exercise.place()?, done))).collect();
    let step_back = seven.windows(2).find_map(|pair| match pair {
        [(before, _), (after, done)] if after < before => Some(done.from),
        _ => None,
    });
    if let Some(at) = step_back {
        docket.broke(RuleId::FitOrder, at, about);
    } else if seven.len() > 1 {
        docket.kept(RuleId::FitOrder, test.common.from, about);
    }
    match test.gap() {
        Some(at) => docket.broke(RuleId::FitAll, at, about),
        None => docket.before(RuleId::FitAll, passed.filter(|_| test.has_all_seven()), passed, about),
    }
    // An exercise begun anew in its place is judged by its longest go.
    let goes = test.exercises.chunk_by(|one, other| one.exercise == other.exercise);
    let last = test.exercises.last().map(|done| done.from);
    for go in goes {
        let went_on = passed.is_some() || go.last().map(|done| done.from) != last;
        let longest = go.iter().max_by_key(|done| done.length(case.state.now));
        // Cut off by the hood coming off, or by a pass long before the end: that is the finding, and not its length.
        let cut_off = |done: &Done| {
            done.to.is_some() && (done.to == test.hood_off || (done.to == passed && !test.has_all_seven()))
        };
        let longest = longest.filter(|done| !cut_off(done));
        if let Some(done) = longest.filter(|done| went_on && done.exercise != Exercise::Grimace) {
            length(case, docket, about, done);
        }
    }
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
        docket.kept(RuleId::FitMinuteNear, at, about);
        docket.mark(RuleId::FitLong, at, about, length <= numbers.exercise_long);
    }
}

/// What the wearer did wrongly in an exercise, and whether it was put right while it lasted.
fn conduct(case: &Case<'_>, docket: &mut Docket, about: About, test: &FitTest) {
    let told = [
        (Seen::SitsDown, Reminder::Stand, RuleId::FitStanding),
        (Seen::RushesMoves, Reminder::Slowly, RuleId::FitEnds),
        (Seen::Whispers, Reminder::Louder, RuleId::FitAloud),
    ];
    for (seen, reminder, rule) in told {
        for (at, _) in test.common.signs.iter().filter(|(_, sign)| *sign == seen) {
            let until = test.exercises.iter().rfind(|done| done.from <= *at).and_then(|done| done.to);
            let said = test.common.acted(*at, |act| act == Act::Remind(reminder));
            let in_time = said.is_some_and(|said| until.is_none_or(|until| said <= until));
            // Where the test was decided in that exercise, there was nothing left to put right.
            let over = test.common.closed.is_some_and(|closed| until.is_none_or(|until| closed <= until));
            if in_time || !over {
                docket.mark(rule, *at, about, in_time);
            }
        }
    }
    if let (Some(ended), Some(at)) = (test.ended(), test.common.passed())
        && test.reached_the_last()
    {
        // Before the result or right after it: before the facepiece comes off.
        let off = case.donning(test).and_then(|donning| donning.off).or(case.state.finished);
        docket.before(
            RuleId::FitComfort,
            case.acted_from(ended, |act| act == Act::ReviewComfort).filter(|asked| off.is_none_or(|off| *asked <= off)),
            Some(off.unwrap_or(at)),
            about,
        );
    }
}
