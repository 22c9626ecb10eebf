//! The drawing: lanes one under the other, along time.

use super::{Part, Window};
use crate::words::{Word, Words, clock};
use bittersweet_core::{
    act::Act,
    ordered::order,
    sign::{Seen, Sign},
    state::About,
    timeline::Bar,
    units::Ms,
};
use yew::prelude::*;

/// Height of a line of letters above a lane.
const LETTERS: f64 = 20.0;

/// Height of the clock's letters along the top.
const CLOCK: f64 = 18.0;

/// Room above the squeezes, for the cross of a set that was left out.
const CROSS: f64 = 12.0;

/// Room below a lane.
const GAP: f64 = 10.0;

/// Height of a row of findings.
const ROW: f64 = 21.0;

/// How many rows of findings there may be.
const ROWS: usize = 3;

/// A bar that is narrower than this share of the width has no room for a figure.
const NARROW: f64 = 4.0;

/// Room between the letters of a scale and the curve.
const AIR: f64 = 5.0;

/// How far apart findings of one row stand, as a share of the width.
const BESIDE: f64 = 3.0;

/// Properties of [`Lanes`].
#[derive(Properties, PartialEq)]
pub(crate) struct LanesProps {
    /// The words.
    pub(crate) words: Words,
    /// What is drawn.
    pub(crate) window: Window,
}

/// A place along time, as a share of the width.
pub(crate) fn place(window: &Window, at: Ms) -> f64 {
    let (from, to) = window.span();
    let whole = to.since(from).as_secs();
    if whole > 0.0 { at.since(from).as_secs() / whole * 100.0 } else { 0.0 }
}

fn percent(share: f64) -> String {
    format!("{share:.3}%")
}

/// Everything but the slider's mark: drawn once for a window.
#[component]
pub(crate) fn Lanes(props: &LanesProps) -> Html {
    let LanesProps { words, window, .. } = props;
    let (from, to) = window.span();
    let mut lanes = Lane { words, window, top: 0.0, drawn: Vec::new() };
    lanes.axis(from, to);
    match window.part() {
        Some(part) => lanes.attempt(part),
        None => lanes.attempts(),
    }
    lanes.ticks(Word::TimelineWearer, window.within(&window.timeline.signs), |(at, sign)| {
        (at, if tasted(sign) { "taste" } else { "sign" })
    });
    lanes.ticks(Word::TimelineYou, window.within(&window.timeline.acts), |(at, act)| {
        (at, if matches!(act, Act::Note(_) | Act::NoteThreshold(_)) { "note" } else { "act" })
    });
    lanes.findings();
    let says = match window.part() {
        Some(part) => words.fill(
            Word::TimelinePartSays,
            &[("part", &words.about(part.stretch.about)), ("from", &clock(from)), ("to", &clock(to))],
        ),
        None => words.fill(Word::TimelineWholeSays, &[("to", &clock(to))]),
    };
    html! {
        <svg class="timeline" role="img" aria-labelledby="timeline-svg-title" aria-describedby="timeline-svg-says" height={format!("{:.0}", lanes.top)} width="100%">
            <title id="timeline-svg-title">{ words.get(Word::TimelineTitle) }</title>
            <desc id="timeline-svg-says">{ says }</desc>
            { lanes.drawn }
        </svg>
    }
}

/// Whether a sign says something about the taste.
const fn tasted(sign: Sign) -> bool {
    matches!(sign, Sign::Seen(Seen::SignalsTaste | Seen::SaysTaste | Seen::SaysTrace | Seen::SaysTasteLate))
}

/// Lanes as they are laid, each below the last.
struct Lane<'a> {
    words: &'a Words,
    window: &'a Window,
    top: f64,
    drawn: Vec<Html>,
}

impl Lane<'_> {
    fn x(&self, at: Ms) -> String {
        percent(place(self.window, at))
    }

    fn width(&self, from: Ms, to: Ms) -> String {
        percent(place(self.window, to) - place(self.window, from))
    }

    /// Begins a lane of this height below its name, a line each, and gives its upper edge.
    fn begin(&mut self, name: &[AttrValue], height: f64) -> f64 {
        for line in name {
            self.letters(LETTERS);
            self.drawn
                .push(html! { <text class="name" x="0" y={format!("{:.1}", self.top - 6.0)}>{ line.clone() }</text> });
        }
        let (y, base) = (self.top, self.top + height);
        self.drawn.push(html! {
            <line class="base" x1="0" x2="100%" y1={format!("{base:.1}")} y2={format!("{base:.1}")} />
        });
        self.top = base + GAP;
        y
    }

    /// Room for letters: paper, so that neither the minutes nor the slider's mark run through them.
    fn letters(&mut self, height: f64) {
        self.drawn.push(
            html! { <rect class="letters" x="-4" y={format!("{:.1}", self.top)} height={format!("{height:.1}")} /> },
        );
        self.top += height;
    }

    /// Minutes along the top; so many that they stay apart.
    fn axis(&mut self, from: Ms, to: Ms) {
        const STEPS: [u32; 6] = [15, 30, 60, 120, 300, 600];
        let step = STEPS.into_iter().find(|step| to.since(from) <= Ms::secs(step * 9)).unwrap_or(1_800);
        let step = Ms::secs(step);
        self.letters(CLOCK);
        let mut at = Ms((from.0 / step.0 + 1) * step.0);
        while at < to {
            let x = self.x(at);
            self.drawn.push(html! {
                <>
                    <line class="minute" x1={x.clone()} x2={x.clone()} y1={CLOCK.to_string()} y2="100%" />
                    <text class="clock" {x} y="12" text-anchor="middle">{ clock(at) }</text>
                </>
            });
            at = at.plus(step);
        }
    }

    fn attempts(&mut self) {
        let y = self.begin(&[self.words.get(Word::TimelineAttempts)], 22.0);
        for part in &self.window.timeline.parts {
            let stretch = &part.stretch;
            let (x, width) = (self.x(stretch.from), self.width(stretch.from, stretch.to));
            let class = match stretch.about {
                About::Test(_) => "bar test",
                About::Day | About::Screening(_) => "bar screening",
            };
            self.drawn.push(html! {
                <rect {class} data-at={stretch.from.0.to_string()} {x} {width} y={format!("{y:.1}")} height="20"><title>{ self.words.about(stretch.about) }</title></rect>
            });
        }
    }

    fn attempt(&mut self, part: &Part) {
        if !part.stretch.exercises.is_empty() {
            self.exercises(part);
        }
        self.sets(part);
        if !part.levels.is_empty() {
            self.levels(part);
        }
    }

    fn exercises(&mut self, part: &Part) {
        let y = self.begin(&[self.words.get(Word::TimelineExercises)], 34.0);
        for bar in &part.stretch.exercises {
            self.bar(bar, "bar", y, 20.0);
        }
        for bar in &part.stretch.book.exercises {
            self.bar(bar, "bar book", y + 23.0, 9.0);
        }
    }

    fn bar(&mut self, bar: &Bar, class: &'static str, y: f64, height: f64) {
        let (_, end) = self.window.span();
        let to = bar.to.min(end);
        if bar.from >= end {
            return;
        }
        let name = self.words.of(&format!("exercise.{}.name", bar.exercise.code()));
        // A bar that is narrower than a figure goes without.
        let is_wide = place(self.window, to) - place(self.window, bar.from) > NARROW;
        let number = bar.exercise.place().filter(|_| is_wide).map(|place| (place + 1).to_string());
        let middle = percent(f64::midpoint(place(self.window, bar.from), place(self.window, to)));
        self.drawn.push(html! {
            <>
                <rect {class} data-at={bar.from.0.to_string()} x={self.x(bar.from)} width={self.width(bar.from, to)} y={format!("{y:.1}")} height={format!("{height:.1}")}><title>{ name }</title></rect>
                if height > 12.0 {
                    { for number.map(|number| html! { <text class="on" x={middle.clone()} y={format!("{:.1}", y + 15.0)} text-anchor="middle">{ number }</text> }) }
                }
            </>
        });
    }

    /// A bar for each set, as tall as its squeezes; what was due stands beside it in outline.
    fn sets(&mut self, part: &Part) {
        const TALL: f64 = 40.0;
        let y = self.begin(&[self.words.get(Word::TimelineSqueezes)], CROSS + TALL) + CROSS;
        let most = part.stretch.sets.iter().map(|set| set.given.max(set.asked.unwrap_or(0))).max().unwrap_or(1).max(1);
        let tall = |count: u32| f64::from(count) / f64::from(most) * TALL;
        for set in &part.stretch.sets {
            if let Some(asked) = set.asked {
                let height = tall(asked);
                self.drawn.push(html! {
                    <svg x={self.x(set.due)} y={format!("{:.1}", y + TALL - height)} overflow="visible" class="due" data-due={set.due.0.to_string()}>
                        <rect x="-4.5" width="9" height={format!("{height:.1}")} />
                        if set.from.is_none() {
                            <path d="M-4,-11 L4,-3 M4,-11 L-4,-3" class="missed" />
                        }
                    </svg>
                });
            }
            if let Some(from) = set.from {
                let height = tall(set.given);
                self.drawn.push(html! {
                    <svg x={self.x(from)} y={format!("{:.1}", y + TALL - height)} overflow="visible" class="set" data-at={from.0.to_string()}>
                        <rect x="-2.5" width="5" height={format!("{height:.1}")} />
                    </svg>
                });
            }
        }
    }

    fn levels(&mut self, part: &Part) {
        const TALL: f64 = 56.0;
        let hood: Vec<(Ms, f64)> = part.levels.iter().map(|level| (level.at, level.hood)).collect();
        let mask: Vec<(Ms, f64)> = part.levels.iter().map(|level| (level.at, level.mask)).collect();
        let top = hood.iter().chain(&part.book).map(|(_, level)| *level).fold(1.0, f64::max);
        let y = self.scaled(Word::TimelineHood, top, TALL);
        self.curve(&part.book, "curve book", y, TALL, top);
        self.curve(&hood, "curve", y, TALL, top);
        let top = mask.iter().map(|(_, level)| *level).fold(0.0, f64::max);
        if top > 0.0 {
            let y = self.scaled(Word::TimelineMask, top, TALL / 2.0);
            self.curve(&mask, "curve", y, TALL / 2.0, top);
        }
    }

    /// Begins a lane for a curve, below its name and its scale.
    fn scaled(&mut self, name: Word, top: f64, tall: f64) -> f64 {
        let top = small(top);
        let top = self.words.figure(top.strip_suffix(".0").unwrap_or(&top));
        let scale = self.words.fill(Word::TimelineScale, &[("top", &top)]);
        self.begin(&[self.words.get(name), scale], AIR + tall) + AIR
    }

    fn curve(&mut self, points: &[(Ms, f64)], class: &'static str, y: f64, tall: f64, top: f64) {
        let (from, to) = self.window.span();
        let whole = to.since(from).as_secs();
        if whole <= 0.0 || top <= 0.0 {
            return;
        }
        let within = points.iter().filter(|(at, _)| *at >= from && *at <= to);
        let line: Vec<String> = within
            .map(|(at, level)| {
                format!("{:.2},{:.2}", at.since(from).as_secs() / whole * 1_000.0, tall - level / top * tall)
            })
            .collect();
        self.drawn.push(html! {
            <svg x="0" y={format!("{y:.1}")} width="100%" height={format!("{tall:.1}")} viewBox={format!("0 0 1000 {tall:.1}")} preserveAspectRatio="none" overflow="visible">
                <polyline {class} points={line.join(" ")} vector-effect="non-scaling-stroke" />
            </svg>
        });
    }

    fn ticks<T>(&mut self, name: Word, marks: impl Iterator<Item = T>, of: impl Fn(T) -> (Ms, &'static str)) {
        let y = self.begin(&[self.words.get(name)], 16.0);
        for mark in marks {
            let (at, class) = of(mark);
            let shape = match class {
                "taste" => "M0,0 L6,12 L-6,12 Z",
                "note" => "M-4,3 H4 V11 H-4 Z",
                _ => "M0,2 V12",
            };
            self.drawn.push(html! {
                <svg x={self.x(at)} y={format!("{y:.1}")} overflow="visible"><path class={classes!("tick", class)} data-at={at.0.to_string()} d={shape} /></svg>
            });
        }
    }

    fn findings(&mut self) {
        // Those at the same place would cover each other: they stand one below the other, the gravest on top. Of each number
        // there the first is drawn, and what finds no room stands in the table alone.
        let mut remarks: Vec<_> = self.window.remarks().collect();
        order(&mut remarks, |remark| ((remark.number as u64) << 32) | u64::from(remark.at.0));
        let mut rows: Vec<Vec<(usize, f64)>> = Vec::new();
        let mut placed = Vec::new();
        for remark in remarks {
            let at = place(self.window, remark.at);
            let is_beside = |(_, other): &(usize, f64)| (at - other).abs() < BESIDE;
            if rows.iter().flatten().any(|other| other.0 == remark.number && is_beside(other)) {
                continue;
            }
            let row = rows.iter().position(|row| !row.iter().any(is_beside)).unwrap_or(rows.len());
            match rows.get_mut(row) {
                Some(others) => others.push((remark.number, at)),
                None if row < ROWS => rows.push(vec![(remark.number, at)]),
                None => continue,
            }
            placed.push((row, at, remark));
        }
        let tall = |row: usize| (0..row).map(|_| ROW).sum::<f64>();
        let y = self.begin(&[self.words.get(Word::TimelineFindings)], tall(rows.len().max(1)) + 3.0);
        for (row, at, remark) in placed {
            let y = y + tall(row);
            self.drawn.push(html! {
                <svg x={percent(at)} y={format!("{y:.1}")} overflow="visible" class="remark" data-at={remark.at.0.to_string()}>
                    <circle cy="10" r="10" />
                    <text y="14" text-anchor="middle">{ remark.number }</text>
                    <title>{ remark.says.clone() }</title>
                </svg>
            });
        }
    }
}

/// A small number, to two figures that count.
pub(super) fn small(number: f64) -> String {
    if number >= 10.0 {
        format!("{number:.0}")
    } else if number >= 1.0 {
        format!("{number:.1}")
    } else if number >= 0.01 {
        format!("{number:.3}")
    } else if number >= 0.001 || number <= 0.0 {
        format!("{number:.4}")
    } else {
        // The weak solution reaches so little into a tight facepiece that four places would say none.
        format!("{number:.6}")
    }
}
