//! How one skill went over time, as a drawing and as a table of the same marks.
//!
//! Places along time are shares of the width, so that letters stay as large as all others; heights are per cent of a tall 100.

use crate::{
    edge::clock,
    words::{Word, Words},
};
use bittersweet_core::{
    progress::{Point, Step},
    question::choose::Day,
    review::Tally,
    source::Skill,
};
use yew::prelude::*;

/// From the upper edge to 100 %.
const TOP: u32 = 10;

/// From the upper edge to nought.
const BASE: u32 = TOP + 100;

/// A mark: of which period, and how much of how much.
type Mark = (usize, Tally);

/// In whole per cent, rounded down. Nothing is drawn of nothing.
fn percent(tally: Tally) -> u32 {
    let share = u64::from(tally.kept) * 100 / u64::from(tally.came_up.max(1));
    u32::try_from(share).unwrap_or(100).min(100)
}

/// The middle of a period as a share of the width: `12.5%`.
fn place(period: usize, periods: usize) -> String {
    let share = (2 * period + 1) * 500 / periods.max(1);
    format!("{}.{}%", share / 10, share % 10)
}

/// What the periods are called. Made once for all drawings: the browser takes its time over a date.
pub(crate) fn periods(step: Step, starts: &[Day]) -> Vec<AttrValue> {
    let name = |start: &Day| match step {
        Step::Week => clock::short_date(*start),
        Step::Month => clock::month(*start),
    };
    starts.iter().map(name).map(AttrValue::from).collect()
}

/// What is drawn of one kind.
fn marks(points: &[Point], of: fn(&Point) -> Tally) -> Vec<Mark> {
    points.iter().map(of).enumerate().filter(|(_, tally)| tally.came_up > 0).collect()
}

/// The drawing with its table; nothing where there is no mark.
pub(crate) fn course(words: &Words, skill: Skill, step: Step, periods: &[AttrValue], points: &[Point]) -> Html {
    let shown = marks(points, |point| point.shown);
    let answered = marks(points, |point| point.answered);
    let (Some(from), Some(to)) = (periods.first(), periods.last()) else { return Html::default() };
    if shown.is_empty() && answered.is_empty() {
        return Html::default();
    }
    let name = words.of(&format!("skill.{}", skill.code()));
    let (runs, answers) = (in_words(words, &shown), in_words(words, &answered));
    let says = words.fill(Word::ProgressSays, &[("from", from), ("to", to), ("runs", &runs), ("answers", &answers)]);
    let (title, desc) = (format!("course-{}", skill.code()), format!("course-{}-says", skill.code()));
    html! {
        <figure class="course">
            <svg role="img" aria-labelledby={title.clone()} aria-describedby={desc.clone()} height="134">
                <title id={title}>{ words.fill(Word::ProgressChart, &[("skill", &name)]) }</title>
                <desc id={desc}>{ says }</desc>
                { for [0, 50, 100].map(|level| {
                    let y = (BASE - level).to_string();
                    html! {
                        <>
                            <line class="base" x1="0" x2="100%" y1={y.clone()} y2={y.clone()} />
                            <text class="level" x="-6" dy="4" {y} text-anchor="end">{ format!("{level}%") }</text>
                        </>
                    }
                }) }
                // Below their marks, where there is room on both sides.
                { for ends(points.len()).into_iter().zip([from, to]).map(|((x, anchor), name)| html! {
                    <text {x} y="130" text-anchor={anchor}>{ name.clone() }</text>
                }) }
                { for lines(&shown, points.len(), "runs") }
                { for lines(&answered, points.len(), "answers") }
                { for answered.iter().map(|(at, tally)| html! {
                    <circle class="answers" cx={place(*at, points.len())} cy={(BASE - percent(*tally)).to_string()} r="4.5" />
                }) }
                { for shown.iter().map(|(at, tally)| html! {
                    <svg class="runs" x={place(*at, points.len())} y={(BASE - percent(*tally)).to_string()} overflow="visible"><rect x="-4" y="-4" width="8" height="8" /></svg>
                }) }
            </svg>
            { table(words, &name, step, periods, points) }
        </figure>
    }
}

/// Where the names of the first and the last period stand, and what of them stands there.
fn ends(periods: usize) -> Vec<(String, &'static str)> {
    match periods {
        1 => vec![(place(0, 1), "middle")],
        2 | 3 => [0, periods - 1].map(|at| (place(at, periods), "middle")).to_vec(),
        _ => vec![("0".to_owned(), "start"), ("100%".to_owned(), "end")],
    }
}

/// Lines between marks of periods that follow one another; over a gap there is none.
fn lines<'a>(marks: &'a [Mark], periods: usize, class: &'static str) -> impl Iterator<Item = Html> + 'a {
    marks.iter().zip(marks.iter().skip(1)).filter(|((one, _), (next, _))| one + 1 == *next).map(
        move |((one, from), (next, to))| {
            html! {
                <line
                    {class} x1={place(*one, periods)} x2={place(*next, periods)}
                    y1={(BASE - percent(*from)).to_string()} y2={(BASE - percent(*to)).to_string()}
                />
            }
        },
    )
}

fn in_words(words: &Words, marks: &[Mark]) -> AttrValue {
    let shares = || marks.iter().map(|(_, tally)| percent(*tally));
    let (Some(first), Some(last), Some(low), Some(high)) =
        (shares().next(), shares().next_back(), shares().min(), shares().max())
    else {
        return words.get(Word::ProgressNone);
    };
    words.fill_counts(Word::ProgressCourse, &[("first", first), ("last", last), ("low", low), ("high", high)])
}

/// A tally in words.
fn value(words: &Words, tally: Tally) -> AttrValue {
    if tally.came_up == 0 {
        return words.get(Word::ProgressNone);
    }
    let counts = [("kept", tally.kept), ("all", tally.came_up), ("percent", percent(tally))];
    words.fill_counts(Word::ProgressValue, &counts)
}

/// Every mark is in a row; a period without one has none.
fn table(words: &Words, name: &str, step: Step, periods: &[AttrValue], points: &[Point]) -> Html {
    let label = words.fill(Word::ProgressTable, &[("skill", name)]);
    let rows = periods.iter().zip(points).filter(|(_, point)| point.shown.came_up + point.answered.came_up > 0);
    html! {
        <details class="course-table">
            <summary>{ label.clone() }</summary>
            <table aria-label={label}>
                <thead>
                    <tr>
                        <th scope="col">{ words.get(if step == Step::Week { Word::ProgressWeek } else { Word::ProgressMonth }) }</th>
                        <th scope="col">{ words.get(Word::ProgressRuns) }</th>
                        <th scope="col">{ words.get(Word::ProgressAnswers) }</th>
                    </tr>
                </thead>
                <tbody>
                    { for rows.map(|(period, point)| html! {
                        <tr key={period.to_string()}>
                            <th scope="row">{ period.clone() }</th>
                            <td>{ value(words, point.shown) }</td>
                            <td>{ value(words, point.answered) }</td>
                        </tr>
                    }) }
                </tbody>
            </table>
        </details>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_stand_in_the_middle_of_their_periods_and_within_the_drawing() {
        assert_eq!([place(0, 1), place(0, 4), place(3, 4), place(25, 26)], ["50.0%", "12.5%", "87.5%", "98.0%"]);
        let tally = |kept, came_up| percent(Tally { kept, came_up });
        assert_eq!([tally(0, 3), tally(2, 3), tally(3, 3), tally(0, 0)], [0, 66, 100, 0]);
        assert_eq!(tally(u32::MAX, u32::MAX), 100);
    }

    #[test]
    fn what_did_not_come_up_has_no_mark() {
        let some = Tally { kept: 0, came_up: 2 };
        let points = [Point::default(), Point { shown: some, ..Point::default() }];
        assert_eq!(marks(&points, |point| point.shown), [(1, some)]);
        assert!(marks(&points, |point| point.answered).is_empty());
    }

    #[test]
    fn names_of_periods_stay_within_the_drawing_and_apart() {
        assert_eq!(ends(1), [("50.0%".to_owned(), "middle")]);
        assert_eq!(ends(2), [("25.0%".to_owned(), "middle"), ("75.0%".to_owned(), "middle")]);
        assert_eq!(ends(26), [("0".to_owned(), "start"), ("100%".to_owned(), "end")]);
    }

    #[test]
    fn over_a_gap_there_is_no_line() {
        let some = Tally { kept: 1, came_up: 2 };
        assert_eq!(lines(&[(0, some), (1, some), (3, some)], 4, "runs").count(), 1);
    }
}
