//! The same as a table: every mark of the drawing is a row, in order of time.

use super::{Part, Window, lanes::small};
use crate::words::{Word, Words, clock};
use bittersweet_core::{
    ordered::order,
    scenario::Scenario,
    state::About,
    timeline::{Bar, Level, Set},
    units::Ms,
};
use std::rc::Rc;
use yew::prelude::*;

/// How often levels are told.
const HALF_MINUTE: Ms = Ms::secs(30);

/// A row: when, what, as it was, by the book.
struct Row {
    at: Ms,
    kind: &'static str,
    lane: AttrValue,
    ran: AttrValue,
    book: AttrValue,
}

/// Properties of [`Table`].
#[derive(Properties)]
pub(crate) struct TableProps {
    /// The words.
    pub(crate) words: Words,
    /// The scenario, for what its wearer says.
    pub(crate) scenario: Rc<Scenario>,
    /// What is told.
    pub(crate) window: Window,
}

impl PartialEq for TableProps {
    fn eq(&self, other: &Self) -> bool {
        self.words == other.words && self.window == other.window
    }
}

/// The table, folded; made once for a window.
#[component]
pub(crate) fn Table(props: &TableProps) -> Html {
    let TableProps { words, scenario, window } = props;
    let mut rows = Vec::new();
    if let Some(part) = window.part() {
        exercises(words, part, &mut rows);
        sets(words, part, &mut rows);
    } else {
        for part in &window.timeline.parts {
            let ran = words.fill(
                Word::TimelineExerciseRan,
                &[
                    ("exercise", &words.about(part.stretch.about)),
                    ("length", &part.stretch.to.since(part.stretch.from).to_string()),
                ],
            );
            rows.push(row(words, part.stretch.from, "attempt", Word::TimelineAttempts, ran));
        }
    }
    // What is shown answers what was done: at the same moment it comes after.
    for (at, act) in window.within(&window.timeline.acts) {
        rows.push(row(words, at, "act", Word::TimelineYou, words.act(act, scenario)));
    }
    for (at, sign) in window.within(&window.timeline.signs) {
        rows.push(row(words, at, "sign", Word::TimelineWearer, words.sign(sign, scenario)));
    }
    for remark in window.remarks() {
        let number = remark.number.to_string();
        let says = words.fill(Word::TimelineFinding, &[("number", &number), ("says", &remark.says)]);
        rows.push(row(words, remark.at, "finding", Word::TimelineFindings, says));
    }
    order(&mut rows, |row| row.at.0.into());
    html! {
        <details class="timeline-table">
            <summary>{ words.get(Word::TimelineTable) }</summary>
            <div class="wide" tabindex="0" role="group" aria-label={words.get(Word::TimelineTable)}>
                <table>
                    <thead>
                        <tr>
                            <th scope="col">{ words.get(Word::TimelineTime) }</th>
                            <th scope="col">{ words.get(Word::TimelineLane) }</th>
                            <th scope="col">{ words.get(Word::TimelineRan) }</th>
                            <th scope="col">{ words.get(Word::TimelineBook) }</th>
                        </tr>
                    </thead>
                    <tbody>
                        { for rows.into_iter().enumerate().map(|(number, row)| html! {
                            <tr key={number} data-kind={row.kind} data-at={row.at.0.to_string()}>
                                <td class="at">{ clock(row.at) }</td><th scope="row">{ row.lane }</th><td data-name={words.get(Word::TimelineRan)}>{ row.ran }</td><td data-name={words.get(Word::TimelineBook)}>{ row.book }</td>
                            </tr>
                        }) }
                    </tbody>
                </table>
            </div>
            { for window.part().filter(|part| !part.levels.is_empty()).map(|part| levels(words, part)) }
        </details>
    }
}

fn row(words: &Words, at: Ms, kind: &'static str, lane: Word, ran: AttrValue) -> Row {
    Row { at, kind, lane: words.get(lane), ran, book: words.get(Word::TimelineNothing) }
}

/// Each exercise beside the book's of the same place.
fn exercises(words: &Words, part: &Part, rows: &mut Vec<Row>) {
    let name = |bar: &Bar| words.of(&format!("exercise.{}.name", bar.exercise.code()));
    let length = |bar: &Bar| bar.to.since(bar.from).to_string();
    let stretch = &part.stretch;
    for bar in &stretch.exercises {
        let book = stretch.book.exercises.iter().find(|other| other.exercise.place() == bar.exercise.place());
        rows.push(Row {
            at: bar.from,
            kind: "exercise",
            lane: words.get(Word::TimelineExercises),
            ran: words.fill(Word::TimelineExerciseRan, &[("exercise", &name(bar)), ("length", &length(bar))]),
            book: book.map_or_else(
                || words.get(Word::TimelineNothing),
                |book| {
                    words.fill(
                        Word::TimelineExerciseBook,
                        &[("exercise", &name(book)), ("from", &clock(book.from)), ("length", &length(book))],
                    )
                },
            ),
        });
    }
    // What was never begun stands there too, at the book's moment.
    let begun = |book: &&Bar| stretch.exercises.iter().any(|bar| bar.exercise.place() == book.exercise.place());
    for book in stretch.book.exercises.iter().filter(|book| !begun(book) && book.from < stretch.to) {
        rows.push(Row {
            at: book.from,
            kind: "exercise",
            lane: words.get(Word::TimelineExercises),
            ran: words.get(Word::TimelineMissed),
            book: words.fill(
                Word::TimelineExerciseBook,
                &[("exercise", &name(book)), ("from", &clock(book.from)), ("length", &length(book))],
            ),
        });
    }
}

fn sets(words: &Words, part: &Part, rows: &mut Vec<Row>) {
    for (number, Set { due, from, given, asked }) in part.stretch.sets.iter().enumerate() {
        let lane = match (part.stretch.about, number) {
            (About::Screening(_), _) => Word::TimelineSetScreening,
            (_, 0) => Word::TimelineSetInitial,
            _ => Word::TimelineSetLater,
        };
        let told = |word: Word, number: u32, at: Ms| {
            words.fill(word, &[("number", &number.to_string()), ("time", &clock(at))])
        };
        rows.push(Row {
            at: from.unwrap_or(*due),
            kind: "set",
            lane: words.get(lane),
            ran: from.map_or_else(|| words.get(Word::TimelineMissed), |at| told(Word::TimelineGiven, *given, at)),
            book: asked
                .map_or_else(|| words.get(Word::TimelineNothing), |number| told(Word::TimelineAsked, number, *due)),
        });
    }
}

/// To one place, as the book's beside it; what would then say none, as [`small`] has it.
fn in_hood(level: f64) -> String {
    if level > 0.0 && level < 0.1 { small(level) } else { format!("{level:.1}") }
}

/// The levels, each half minute, and where the most is in the facepiece: a leak can come and go between two of them.
fn levels(words: &Words, part: &Part) -> Html {
    let mut rows: Vec<(Ms, Level, Option<f64>)> = Vec::new();
    let mut at = part.stretch.exercises.first().map_or(part.stretch.from, |bar| bar.from);
    while at <= part.stretch.to {
        // As it stood just before: what is squeezed at that moment comes after.
        let level = part.levels.iter().rfind(|level| level.at < at).or(part.levels.first());
        let book = part.book.iter().rfind(|(when, _)| *when < at).map(|(_, level)| *level);
        if let Some(level) = level {
            rows.push((at, *level, book));
        }
        at = at.plus(HALF_MINUTE);
    }
    if let Some(most) = part.levels.iter().max_by(|one, other| one.mask.total_cmp(&other.mask)) {
        let book = part.book.iter().rfind(|(when, _)| *when <= most.at).map(|(_, level)| *level);
        rows.insert(rows.partition_point(|(at, ..)| *at < most.at), (most.at, *most, book));
    }
    html! {
        <div class="wide" tabindex="0" role="group" aria-label={words.get(Word::TimelineLevels)}>
            <table class="levels">
                <caption>{ words.get(Word::TimelineLevels) }</caption>
                <thead>
                    <tr>
                        <th scope="col">{ words.get(Word::TimelineTime) }</th>
                        <th scope="col">{ words.get(Word::TimelineRan) }</th>
                        <th scope="col">{ words.get(Word::TimelineBook) }</th>
                    </tr>
                </thead>
                <tbody>
                    { for rows.into_iter().map(|(at, level, book)| html! {
                        <tr key={at.0} data-at={at.0.to_string()}>
                            <td class="at">{ clock(at) }</td>
                            <td data-name={words.get(Word::TimelineRan)}>{ words.fill(Word::TimelineLevelAt, &[("hood", &words.figure(&in_hood(level.hood))), ("mask", &words.figure(&small(level.mask)))]) }</td>
                            <td data-name={words.get(Word::TimelineBook)}>{ book.map_or_else(|| words.get(Word::TimelineNothing), |level| words.fill(Word::TimelineLevelBook, &[("hood", &words.figure(&in_hood(level)))])) }</td>
                        </tr>
                    }) }
                </tbody>
            </table>
        </div>
    }
}
