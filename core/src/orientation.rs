//! A worker's view before their own test: a story drawn from a seed, seen from inside the hood, in which they may speak up.
//!
//! The test is the book's and the taste the teaching model's; only time is told faster. Nobody is judged by it: it says what
//! each choice would have meant. The story is made up and predicts nobody's fit.

use crate::{
    act::{Exercise, Threshold},
    coded::coded,
    course::{Course, EXERCISES, Stretch, leak, reached},
    draw::{Purpose, number, unit},
    model::Parameters,
    motion::Motion,
    normal,
    population::{LEAKS, screening},
    rulebook::{Agent, Rulebook},
    scene::density,
    taste::{QUESTION_S, RAPID, RAPID_S},
    units::Ms,
};

/// How many questions are asked at the end.
pub const QUESTIONS: usize = 5;

/// How many steps there are.
pub const STEPS: usize = 13;

/// From which share of their threshold on somebody may wonder whether there is something, and from which it is clear: ours.
const PERHAPS: f64 = 0.5;
const CLEAR: f64 = 2.0;

/// A fit that lets a taste in is below what a half facepiece must have (1910.134(f)(6)); a good one is far above.
const POOR_FIT: f64 = 90.0;
const GOOD_FIT: f64 = 1_000.0;

/// When in its exercise a smell or an itch begins, s.
const BEGINS_S: f64 = 10.0;

/// How long a puff is seen, s.
const SEEN_S: f64 = 2.0;

coded! {
    /// What is told before and between, one thing a step.
    Told {
        /// What this is and is not.
        Welcome = "welcome",
        /// Why masks are tested.
        Why = "why",
        /// What happens, in two parts.
        Parts = "parts",
        /// What is up to the worker.
        Duties = "duties",
        /// The hood goes on, without a mask.
        Hood = "hood",
        /// Water, and the mask.
        Rest = "rest",
        /// The hood goes on again, over the mask.
        Ready = "ready",
    }
}

coded! {
    /// What the worker can say or do.
    Said {
        /// That they taste it.
        Taste = "taste",
        /// That they notice something else.
        Other = "other",
        /// That there is nothing.
        Nothing = "nothing",
        /// Nothing said: a hand goes to the mask.
        Touch = "touch",
        /// That they want to stop.
        Stop = "stop",
    }
}

coded! {
    /// How strong a taste is.
    Taste {
        /// None that could be noticed.
        Nothing = "nothing",
        /// Below the threshold, and not far.
        Perhaps = "perhaps",
        /// At the threshold.
        Little = "little",
        /// Well above.
        Clear = "clear",
    }
}

coded! {
    /// What is answered at once, while the story goes on.
    Reply {
        /// A taste was claimed where there was none yet.
        Early = "early",
        /// Something was noticed; what is it like?
        Like = "like",
        /// The smell was noticed.
        Smell = "smell",
        /// The itch was noticed.
        Itch = "itch",
        /// Something was noticed that is not in the story.
        Noted = "noted",
        /// The mask was touched.
        Touched = "touched",
    }
}

coded! {
    /// How the story ended, which says what was done and what silence would have meant.
    Ending {
        /// A taste, said at once.
        AtOnce = "at-once",
        /// A taste, said some exercises after its first hint.
        Later = "later",
        /// A taste, told when asked at the end.
        WhenAsked = "when-asked",
        /// A taste, and nothing was said.
        Silent = "silent",
        /// No taste, and none was claimed.
        Quiet = "quiet",
        /// No taste, and one was claimed.
        Unsure = "unsure",
        /// A smell, and it was said.
        SmellSaid = "smell-said",
        /// A smell, and nothing was said.
        SmellQuiet = "smell-quiet",
        /// A smell, called a taste.
        SmellAsTaste = "smell-as-taste",
        /// The worker wanted to stop.
        Stopped = "stopped",
    }
}

coded! {
    /// How fast the story goes.
    Pace {
        /// Eight seconds for each minute of the test.
        Short = "short",
        /// A third of that speed.
        Slow = "slow",
        /// Only when asked to.
        Steps = "steps",
    }
}

impl Pace {
    /// How long a minute of the test takes on the screen; `None` where no time passes by itself.
    #[must_use]
    pub const fn minute_s(self) -> Option<u32> {
        match self {
            Self::Short => Some(8),
            Self::Slow => Some(24),
            Self::Steps => None,
        }
    }
}

/// What the story is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Tale {
    /// The mask leaks in this exercise.
    Leak(Exercise),
    /// It fits, and there is nothing.
    Fits,
    /// It fits, and smells of plastic in the exercise with this place.
    Smell(usize),
}

/// What is so in a story and is not told beforehand.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Hidden {
    tale: Tale,
    /// At how much gathered the worker of the story tastes it, in squeeze-seconds.
    threshold: f64,
    /// How strong the taste gets in a leak, in thresholds, where the leak is not wider than that.
    strength: f64,
    /// In which exercise the mask itches.
    itches: Option<usize>,
}

impl Hidden {
    fn draw(agent: Agent, seed: u64) -> Self {
        let of = |index, below| usize::try_from(number(seed, Purpose::Orientation, index, below)).unwrap_or_default();
        let opens = LEAKS.iter().filter_map(|(opens, _)| *opens).nth(of(1, 3));
        let tale = match (of(0, 4), opens) {
            (0 | 1, Some(opens)) => Tale::Leak(opens),
            (2, _) => Tale::Smell(3 + of(2, 3)),
            _ => Tale::Fits,
        };
        let parameters = Parameters::live(agent);
        let [first, second, _] = screening(&parameters.motion(), Rulebook::us(agent));
        // Whoever cannot taste it within two sets is not in these stories: they would end before the mask.
        let spread = libm::exp(
            libm::log(parameters.threshold_spread) * normal::quantile(unit(seed, Purpose::Tastes, 0).max(1e-6)),
        );
        Self {
            tale,
            threshold: (first * parameters.threshold_median * spread).clamp(0.3 * first, 0.9 * second),
            strength: 1.2 + unit(seed, Purpose::Orientation, 3),
            itches: (of(4, 2) == 0).then(|| of(5, 3)),
        }
    }
}

/// The screening under way: bare-faced, in sets of ten squeezes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Screening {
    /// Which set, from 0.
    pub set: usize,
    /// How far into it.
    at: Ms,
}

/// The test under way, or just over.
#[derive(Clone, Debug, PartialEq)]
pub struct Test {
    course: Course,
    opens: [f64; EXERCISES],
    motion: Motion,
    /// What an open hood would have to bring to reach the threshold behind this mask, in squeeze-seconds.
    keeps_out: f64,
    at: Ms,
}

/// Where the worker is.
#[derive(Clone, Debug, PartialEq)]
pub enum Place {
    /// Something is told, until they go on.
    Told(Told),
    /// In the hood without a mask.
    Screening(Screening),
    /// In the hood with a mask.
    Test(Test),
    /// Out of it, and asked once.
    Asked(Test),
    /// What it meant.
    After(Ending),
    /// The questions.
    Questions,
    /// The card, and the end.
    Card,
}

/// What the worker notices.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Senses {
    /// The strongest taste since this set or exercise began.
    pub taste: Taste,
    /// A smell of plastic, which is not the taste.
    pub smell: bool,
    /// An itch under the mask.
    pub itch: bool,
}

/// A worker on their way through it.
#[derive(Clone, Debug, PartialEq)]
pub struct Orientation {
    agent: Agent,
    seed: u64,
    hidden: Hidden,
    place: Place,
    /// In which set they said that they taste it.
    noted: Option<Threshold>,
    touched: bool,
    smell_told: bool,
    reply: Option<Reply>,
}

impl Orientation {
    /// At the first step, with the story of this seed.
    #[must_use]
    pub fn begin(agent: Agent, seed: u64) -> Self {
        Self {
            agent,
            seed,
            hidden: Hidden::draw(agent, seed),
            place: Place::Told(Told::Welcome),
            noted: None,
            touched: false,
            smell_told: false,
            reply: None,
        }
    }

    /// The same step with the other spray.
    #[must_use]
    pub fn with(&self, agent: Agent) -> Self {
        Self { place: self.place.clone(), ..Self::begin(agent, self.seed) }
    }

    /// Back in the hood with the story of the next seed.
    #[must_use]
    pub fn again(&self) -> Self {
        Self { place: Place::Told(Told::Hood), ..Self::begin(self.agent, self.seed.wrapping_add(1)) }
    }

    /// Which spray it is.
    #[must_use]
    pub const fn agent(&self) -> Agent {
        self.agent
    }

    /// What the story was drawn from.
    #[must_use]
    pub const fn seed(&self) -> u64 {
        self.seed
    }

    /// Where the worker is.
    #[must_use]
    pub const fn place(&self) -> &Place {
        &self.place
    }

    /// The number of the step, from 1.
    #[must_use]
    pub fn step_number(&self) -> usize {
        match &self.place {
            Place::Told(Told::Welcome) => 1,
            Place::Told(Told::Why) => 2,
            Place::Told(Told::Parts) => 3,
            Place::Told(Told::Duties) => 4,
            Place::Told(Told::Hood) => 5,
            Place::Screening(_) => 6,
            Place::Told(Told::Rest) => 7,
            Place::Told(Told::Ready) => 8,
            Place::Test(_) => 9,
            Place::Asked(_) => 10,
            Place::After(_) => 11,
            Place::Questions => 12,
            Place::Card => STEPS,
        }
    }

    /// What was answered to what they said last.
    #[must_use]
    pub const fn reply(&self) -> Option<Reply> {
        self.reply
    }

    /// Whether they touched the mask, and whether they never said that they taste it without one.
    #[must_use]
    pub const fn beside(&self) -> (bool, bool) {
        (self.touched, self.noted.is_none())
    }

    /// Which of `all` questions are asked: all but one where there is one more than enough, in their order.
    #[must_use]
    pub fn questions(&self, all: usize) -> Vec<usize> {
        let below = u32::try_from(all).unwrap_or(u32::MAX);
        let first_out = usize::try_from(number(self.seed, Purpose::QuestionChoice, 0, below)).unwrap_or_default();
        let out = all.saturating_sub(QUESTIONS);
        (0..all).filter(|place| (place + all - first_out) % all.max(1) >= out).collect()
    }

    /// Whether time goes on here by itself.
    #[must_use]
    pub fn goes_on(&self) -> bool {
        match &self.place {
            Place::Screening(screening) => !self.set_is_over(*screening),
            Place::Test(_) => true,
            Place::Told(_) | Place::Asked(_) | Place::After(_) | Place::Questions | Place::Card => false,
        }
    }

    /// What can be said or done here; what can be so only now and then comes last, so that the rest keeps its place.
    #[must_use]
    pub fn may_say(&self) -> &'static [Said] {
        match &self.place {
            Place::Screening(screening) if self.set_is_over(*screening) => {
                &[Said::Taste, Said::Other, Said::Stop, Said::Nothing]
            }
            Place::Screening(_) => &[Said::Taste, Said::Other, Said::Stop],
            // Once it has itched the hand could go there at any time.
            Place::Test(test) if self.hidden.itches.is_some_and(|place| test.into(place) >= BEGINS_S) => {
                &[Said::Taste, Said::Other, Said::Stop, Said::Touch]
            }
            Place::Test(_) => &[Said::Taste, Said::Other, Said::Stop],
            Place::Asked(_) => &[Said::Taste, Said::Other, Said::Nothing],
            Place::Told(Told::Hood | Told::Ready) => &[Said::Stop],
            Place::Told(_) | Place::After(_) | Place::Questions | Place::Card => &[],
        }
    }

    /// On to what comes next, where that waits for nothing else.
    pub fn go_on(&mut self) {
        self.reply = None;
        self.place = match &self.place {
            Place::Told(Told::Welcome) => Place::Told(Told::Why),
            Place::Told(Told::Why) => Place::Told(Told::Parts),
            Place::Told(Told::Parts) => Place::Told(Told::Duties),
            Place::Told(Told::Duties) => Place::Told(Told::Hood),
            Place::Told(Told::Hood) => Place::Screening(Screening { set: 0, at: Ms::ZERO }),
            Place::Told(Told::Rest) => Place::Told(Told::Ready),
            Place::Told(Told::Ready) => Place::Test(self.test()),
            Place::After(_) => Place::Questions,
            Place::Questions => Place::Card,
            Place::Screening(_) | Place::Test(_) | Place::Asked(_) | Place::Card => return,
        };
    }

    /// The worker says or does something. What cannot be said here changes nothing.
    pub fn say(&mut self, said: Said) {
        if !self.may_say().contains(&said) {
            return;
        }
        self.reply = None;
        if said == Said::Stop {
            self.place = Place::After(Ending::Stopped);
            return;
        }
        match self.place.clone() {
            Place::Screening(screening) => self.say_bare(said, screening),
            Place::Test(test) => self.say_masked(said, &test),
            Place::Asked(test) => self.say_asked(said, &test),
            Place::Told(_) | Place::After(_) | Place::Questions | Place::Card => {}
        }
    }

    /// Lets so much time pass on the screen, at a pace.
    pub fn pass(&mut self, on_screen: Ms, pace: Pace) {
        let Some(minute_s) = pace.minute_s() else { return };
        // A set is told in its own time at the short pace; a minute of the test is not.
        let is_bare = matches!(self.place, Place::Screening(_));
        let minute = if is_bare { Pace::Short.minute_s().unwrap_or(minute_s) } else { 60 };
        self.advance(Ms(on_screen.0.saturating_mul(minute) / minute_s));
    }

    /// Lets half a set or half a minute pass.
    pub fn step(&mut self) {
        let is_bare = matches!(self.place, Place::Screening(_));
        let half_a_set = Ms(self.set_length().0.div_ceil(2));
        self.advance(if is_bare { half_a_set } else { Rulebook::us(self.agent).numbers.replenish_every });
    }

    /// What the tester asks for: the exercise under way, `None` during the initial squeezes.
    #[must_use]
    pub fn exercise(&self) -> Option<Exercise> {
        let Place::Test(test) = &self.place else { return None };
        Exercise::SEVEN.get(test.exercise()?).copied()
    }

    fn advance(&mut self, passed: Ms) {
        let length = self.set_length();
        match &mut self.place {
            Place::Screening(screening) => screening.at = screening.at.plus(passed).min(length),
            Place::Test(test) => {
                let before = test.exercise();
                test.at = test.at.plus(passed);
                // An answer is to what was said in this exercise.
                if test.exercise() != before {
                    self.reply = None;
                }
                if test.exercise() == Some(EXERCISES) {
                    self.place = Place::Asked(test.clone());
                }
            }
            Place::Told(_) | Place::Asked(_) | Place::After(_) | Place::Questions | Place::Card => {}
        }
    }

    /// What the worker notices now.
    #[must_use]
    pub fn senses(&self) -> Senses {
        let mut senses = Senses { taste: Taste::Nothing, smell: false, itch: false };
        match &self.place {
            Place::Screening(screening) => senses.taste = grade(self.bare(*screening).1 / self.hidden.threshold),
            Place::Test(test) => {
                senses.taste = grade(test.now().1 / test.keeps_out);
                let since = |place: Option<usize>| {
                    place.is_some_and(|place| test.exercise() == Some(place) && test.into(place) >= BEGINS_S)
                };
                senses.smell = since(self.smells_in());
                senses.itch = since(self.hidden.itches);
            }
            Place::Told(_) | Place::Asked(_) | Place::After(_) | Place::Questions | Place::Card => {}
        }
        senses
    }

    /// How dense the mist before the eyes is, from 0 to 5.
    #[must_use]
    pub fn mist(&self) -> u8 {
        match &self.place {
            Place::Screening(screening) => density(self.bare(*screening).0),
            Place::Test(test) => {
                let strength = f64::from(Rulebook::us(self.agent).solution.strength_milli) / 1_000.0;
                density(test.now().0 / strength)
            }
            Place::Told(_) | Place::Asked(_) | Place::After(_) | Place::Questions | Place::Card => 0,
        }
    }

    /// Whether a puff is on its way.
    #[must_use]
    pub fn sprays(&self) -> bool {
        match &self.place {
            Place::Screening(screening) => !self.set_is_over(*screening),
            Place::Test(test) => test.sprays(),
            Place::Told(_) | Place::Asked(_) | Place::After(_) | Place::Questions | Place::Card => false,
        }
    }

    fn say_bare(&mut self, said: Said, screening: Screening) {
        let next = screening.set + 1;
        match said {
            Said::Taste if self.senses().taste == Taste::Nothing => self.reply = Some(Reply::Early),
            Said::Taste => {
                self.noted = [Threshold::Ten, Threshold::Twenty, Threshold::Thirty].get(screening.set).copied();
                self.place = Place::Told(Told::Rest);
            }
            Said::Nothing if next < 3 => self.place = Place::Screening(Screening { set: next, at: Ms::ZERO }),
            Said::Nothing => self.place = Place::Told(Told::Rest),
            Said::Other | Said::Touch | Said::Stop => self.reply = Some(Reply::Noted),
        }
    }

    fn say_masked(&mut self, said: Said, test: &Test) {
        let Senses { taste, smell, itch } = self.senses();
        match said {
            Said::Taste => {
                let here = test.exercise().unwrap_or_default();
                let hinted = Self::hinted_in(test, here);
                self.place = Place::After(match hinted {
                    // One exercise later is still at once: it may have come at the end of the one before.
                    Some(place) if here <= place + 1 => Ending::AtOnce,
                    Some(_) => Ending::Later,
                    None => self.unsure(here),
                });
            }
            Said::Touch => {
                self.touched = true;
                self.reply = Some(Reply::Touched);
            }
            Said::Other | Said::Nothing | Said::Stop => {
                self.smell_told |= smell;
                self.reply = Some(match (taste, smell, itch) {
                    (Taste::Perhaps | Taste::Little | Taste::Clear, ..) => Reply::Like,
                    (_, true, _) => Reply::Smell,
                    (_, _, true) => Reply::Itch,
                    _ => Reply::Noted,
                });
            }
        }
    }

    fn say_asked(&mut self, said: Said, test: &Test) {
        let hinted = Self::hinted_in(test, EXERCISES).is_some();
        if hinted && said == Said::Other {
            self.reply = Some(Reply::Like);
            return;
        }
        let smells = self.smells_in().is_some();
        let told = self.smell_told || (smells && said == Said::Other);
        self.place = Place::After(match (said, hinted) {
            (Said::Taste, true) => Ending::WhenAsked,
            (Said::Taste, false) => self.unsure(EXERCISES),
            (Said::Other | Said::Nothing | Said::Touch | Said::Stop, true) => Ending::Silent,
            (Said::Other | Said::Nothing | Said::Touch | Said::Stop, false) if told => Ending::SmellSaid,
            (Said::Other | Said::Nothing | Said::Touch | Said::Stop, false) if smells => Ending::SmellQuiet,
            (Said::Other | Said::Nothing | Said::Touch | Said::Stop, false) => Ending::Quiet,
        });
    }

    /// A taste was claimed that the story does not have.
    fn unsure(&self, here: usize) -> Ending {
        if self.smells_in().is_some_and(|place| place <= here) { Ending::SmellAsTaste } else { Ending::Unsure }
    }

    /// The first exercise, up to `here`, that brought a hint of a taste.
    fn hinted_in(test: &Test, here: usize) -> Option<usize> {
        let strongest = test.course.strongest(&test.motion, &test.opens);
        let hint = |taste: f64| grade(taste / test.keeps_out) != Taste::Nothing;
        let before = strongest.iter().take(here).position(|taste| hint(*taste));
        before.or_else(|| (here < EXERCISES && hint(test.now().1)).then_some(here))
    }

    fn smells_in(&self) -> Option<usize> {
        match self.hidden.tale {
            Tale::Smell(place) => Some(place),
            Tale::Leak(_) | Tale::Fits => None,
        }
    }

    /// A test by the book from the set that was noted, with a fit that makes the story true.
    fn test(&self) -> Test {
        let Hidden { tale, threshold, strength, .. } = self.hidden;
        let parameters = Parameters::live(self.agent);
        let noted = self.noted.unwrap_or(Threshold::Ten);
        let course = Course::by_the_book(Rulebook::us(self.agent), noted).unwrap_or_default();
        let opens = leak(if let Tale::Leak(opens) = tale { Some(opens) } else { None });
        let strongest = course.strongest(&parameters.motion(), &opens).into_iter().fold(0.0, f64::max);
        let brought = parameters.reach * strongest / threshold;
        let fit = match tale {
            Tale::Leak(_) => (brought / strength).min(POOR_FIT),
            Tale::Fits | Tale::Smell(_) => (brought / (PERHAPS / 2.0)).max(GOOD_FIT),
        };
        let keeps_out = fit * threshold / parameters.reach;
        Test { course, opens, motion: parameters.motion(), keeps_out, at: Ms::ZERO }
    }

    /// The level in the hood and the strongest taste in a set of the screening so far.
    fn bare(&self, screening: Screening) -> (f64, f64) {
        let count = Rulebook::us(self.agent).numbers.set;
        let lasts_s = f64::from(count) * RAPID_S;
        let puffs = (0..count).map(|squeeze| (f64::from(squeeze) * RAPID_S, 1.0)).collect();
        let set = Stretch { lasts_s, until_next_s: lasts_s + QUESTION_S, puffs, shut: Vec::new() };
        let before = f64::from(u32::try_from(screening.set).unwrap_or_default()) * set.until_next_s;
        // What comes while they are asked still counts to the set.
        let since = if self.set_is_over(screening) { set.until_next_s } else { screening.at.as_secs() };
        let motion = Parameters::live(self.agent).motion();
        let (air, most) = reached(&vec![(&set, 1.0); screening.set + 1], &motion, before + since);
        (air.level, most)
    }

    fn set_length(&self) -> Ms {
        RAPID.times(Rulebook::us(self.agent).numbers.set)
    }

    fn set_is_over(&self, screening: Screening) -> bool {
        screening.at >= self.set_length()
    }
}

impl Test {
    /// The place of the exercise under way among the seven; `None` during the initial squeezes, 7 when all are done.
    #[must_use]
    pub fn exercise(&self) -> Option<usize> {
        (0..=EXERCISES).rfind(|place| self.into(*place) >= 0.0)
    }

    /// Seconds since the exercise with this place began; below nought where it has not.
    fn into(&self, place: usize) -> f64 {
        let before = self.stretches().into_iter().take(place + 1).map(|(stretch, _)| stretch.until_next_s);
        self.at.as_secs() - before.sum::<f64>()
    }

    /// The initial squeezes and the exercises, each with how wide the leak is open in it.
    fn stretches(&self) -> Vec<(&Stretch, f64)> {
        let [first, ..] = self.opens;
        let exercises = self.course.exercises.iter().flatten().zip(self.opens);
        [(&self.course.initial, first)].into_iter().chain(exercises).collect()
    }

    /// The level in the hood and the strongest taste since this exercise began, of a leak that lets in all.
    fn now(&self) -> (f64, f64) {
        let (air, most) = reached(&self.stretches(), &self.motion, self.at.as_secs());
        (air.level, most)
    }

    /// Whether a puff came just now.
    fn sprays(&self) -> bool {
        let mut since = self.at.as_secs();
        for (stretch, _) in self.stretches() {
            if stretch.puffs.iter().any(|(at, _)| (0.0..SEEN_S).contains(&(since - at))) {
                return true;
            }
            since -= stretch.until_next_s;
        }
        false
    }
}

/// The grade of a taste of so many times the threshold. There is no chance about it: it is a story.
fn grade(times: f64) -> Taste {
    if times < PERHAPS {
        Taste::Nothing
    } else if times < 1.0 {
        Taste::Perhaps
    } else if times < CLEAR {
        Taste::Little
    } else {
        Taste::Clear
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    const SEEDS: u64 = 200;

    fn each(check: impl Fn(Orientation)) {
        for seed in 0..SEEDS {
            for agent in Agent::ALL.iter().copied() {
                check(Orientation::begin(agent, seed));
            }
        }
    }

    /// Goes on until there is something to say, or to the end.
    fn go_on(worker: &mut Orientation) {
        while matches!(worker.place(), Place::Told(_)) {
            worker.go_on();
        }
    }

    /// Waits, step by step, until `done`.
    fn wait(worker: &mut Orientation, done: impl Fn(&Orientation) -> bool) {
        while worker.goes_on() && !done(worker) {
            worker.step();
        }
    }

    /// Through the screening by the truth, into the test.
    fn masked(mut worker: Orientation) -> Orientation {
        go_on(&mut worker);
        while matches!(worker.place(), Place::Screening(_)) {
            wait(&mut worker, |worker| worker.senses().taste >= Taste::Little);
            worker.say(if worker.senses().taste >= Taste::Little { Said::Taste } else { Said::Nothing });
        }
        assert_eq!(worker.beside(), (false, false));
        go_on(&mut worker);
        assert!(matches!(worker.place(), Place::Test(_)));
        worker
    }

    fn ending(worker: &Orientation) -> Option<Ending> {
        if let Place::After(ending) = worker.place() { Some(*ending) } else { None }
    }

    fn leaks(worker: &Orientation) -> bool {
        matches!(worker.hidden.tale, Tale::Leak(_))
    }

    #[test]
    fn everybody_in_a_story_tastes_it_within_two_sets() {
        each(|mut worker| {
            go_on(&mut worker);
            let mut sets = 0;
            while matches!(worker.place(), Place::Screening(_)) && sets < 3 {
                wait(&mut worker, |worker| worker.senses().taste >= Taste::Little);
                worker.say(if worker.senses().taste >= Taste::Little { Said::Taste } else { Said::Nothing });
                sets += 1;
            }
            assert!(worker.noted.is_some() && sets <= 2, "{:?}: {sets}", worker.hidden);
        });
    }

    #[test]
    fn there_is_a_taste_where_the_mask_leaks_and_none_where_it_fits() {
        each(|worker| {
            let mut worker = masked(worker);
            let leaks = leaks(&worker);
            let mut strongest = Taste::Nothing;
            while worker.goes_on() {
                strongest = strongest.max(worker.senses().taste);
                worker.advance(Ms::secs(1));
            }
            assert_eq!(strongest >= Taste::Little, leaks, "{:?}", worker.hidden);
            assert!(leaks || strongest == Taste::Nothing);
            // 1910.134(f)(6): a fit factor of 100 is what a half facepiece must reach.
            let Place::Asked(test) = worker.place() else { panic!("asked at the end") };
            let fit = test.keeps_out * Parameters::live(worker.agent).reach / worker.hidden.threshold;
            assert_eq!(fit < 100.0, leaks);
        });
    }

    #[test]
    fn silence_is_told_for_what_it_was() {
        each(|worker| {
            let mut worker = masked(worker);
            wait(&mut worker, |_| false);
            worker.say(Said::Nothing);
            let told = match worker.hidden.tale {
                Tale::Leak(_) => Ending::Silent,
                Tale::Fits => Ending::Quiet,
                Tale::Smell(_) => Ending::SmellQuiet,
            };
            assert_eq!(ending(&worker), Some(told));
        });
    }

    #[test]
    fn a_taste_said_at_once_is_told_so_and_later_as_late() {
        let mut later = 0;
        each(|worker| {
            let mut worker = masked(worker);
            if !leaks(&worker) {
                return;
            }
            wait(&mut worker, |worker| worker.senses().taste >= Taste::Perhaps);
            worker.say(Said::Taste);
            assert_eq!(ending(&worker), Some(Ending::AtOnce));
        });
        each(|worker| {
            let mut worker = masked(worker);
            if !leaks(&worker) {
                return;
            }
            wait(&mut worker, |_| false);
            worker.say(Said::Taste);
            assert_eq!(ending(&worker), Some(Ending::WhenAsked));
        });
        for seed in 0..SEEDS {
            let mut worker = masked(Orientation::begin(Agent::Bitter, seed));
            wait(&mut worker, |worker| matches!(worker.place(), Place::Test(test) if test.exercise() == Some(6)));
            let opens = worker.hidden.tale;
            worker.say(Said::Taste);
            if opens == Tale::Leak(Exercise::HeadUpDown) {
                assert_eq!(ending(&worker), Some(Ending::Later));
                later += 1;
            }
        }
        assert!(later > 10);
    }

    #[test]
    fn a_smell_is_none_of_the_spray() {
        let mut smells = 0;
        for seed in 0..SEEDS {
            let worker = masked(Orientation::begin(Agent::Sweet, seed));
            let Tale::Smell(_) = worker.hidden.tale else { continue };
            smells += 1;
            let mut told = worker.clone();
            wait(&mut told, |worker| worker.senses().smell);
            assert_eq!(told.senses(), Senses { taste: Taste::Nothing, smell: true, itch: false });
            told.say(Said::Other);
            assert_eq!(told.reply(), Some(Reply::Smell));
            let mut taken = told.clone();
            taken.say(Said::Taste);
            assert_eq!(ending(&taken), Some(Ending::SmellAsTaste));
            wait(&mut told, |_| false);
            told.say(Said::Nothing);
            assert_eq!(ending(&told), Some(Ending::SmellSaid));
            let mut before = worker;
            before.say(Said::Taste);
            assert_eq!(ending(&before), Some(Ending::Unsure));
        }
        assert!(smells > 20, "{smells}");
    }

    #[test]
    fn what_else_is_said_is_answered() {
        let mut replies = BTreeSet::new();
        each(|mut worker| {
            go_on(&mut worker);
            worker.say(Said::Taste);
            assert_eq!(worker.reply(), Some(Reply::Early));
            assert!(matches!(worker.place(), Place::Screening(_)));
            worker.say(Said::Other);
            assert_eq!(worker.reply(), Some(Reply::Noted));
            let mut worker = masked(worker.again());
            // No hand goes to the mask unless it itches.
            worker.say(Said::Touch);
            assert!(!worker.touched);
            while worker.goes_on() {
                worker.say(Said::Other);
                let senses = worker.senses();
                let wanted = match (senses.taste, senses.smell, senses.itch) {
                    (Taste::Nothing, true, _) => Reply::Smell,
                    (Taste::Nothing, _, true) => Reply::Itch,
                    (Taste::Nothing, ..) => Reply::Noted,
                    _ => Reply::Like,
                };
                assert_eq!(worker.reply(), Some(wanted));
                if senses.itch {
                    worker.say(Said::Touch);
                    assert_eq!((worker.reply(), worker.beside().0), (Some(Reply::Touched), true));
                }
                worker.step();
            }
        });
        for seed in 0..SEEDS {
            let mut worker = masked(Orientation::begin(Agent::Sweet, seed));
            while worker.goes_on() {
                worker.say(Said::Other);
                replies.extend(worker.reply());
                worker.step();
            }
        }
        assert_eq!(replies.len(), 4);
    }

    #[test]
    fn to_stop_is_possible_wherever_the_hood_is_on() {
        each(|mut worker| {
            for place in 0..40 {
                if worker.may_say().contains(&Said::Stop) {
                    let mut stops = worker.clone();
                    stops.say(Said::Stop);
                    assert_eq!(ending(&stops), Some(Ending::Stopped), "{place}");
                    stops.go_on();
                    stops.go_on();
                    assert_eq!(stops.place(), &Place::Card);
                }
                if worker.goes_on() {
                    assert!(worker.may_say().contains(&Said::Stop));
                    worker.step();
                } else if worker.may_say().contains(&Said::Nothing) {
                    worker.say(Said::Nothing);
                } else {
                    worker.go_on();
                }
            }
            assert_eq!(worker.place(), &Place::Card);
        });
    }

    #[test]
    fn who_never_tastes_it_bare_faced_is_told_so_and_goes_on() {
        let mut worker = Orientation::begin(Agent::Sweet, 1);
        go_on(&mut worker);
        for set in 0..3 {
            let Place::Screening(screening) = *worker.place() else { panic!("three sets") };
            assert_eq!(screening.set, set);
            wait(&mut worker, |_| false);
            worker.say(Said::Nothing);
        }
        assert_eq!(worker.place(), &Place::Told(Told::Rest));
        assert_eq!(worker.beside(), (false, true));
    }

    #[test]
    fn in_pieces_is_as_at_once_and_the_short_pace_takes_a_minute() {
        let start = masked(Orientation::begin(Agent::Bitter, 7));
        let mut pieces = start.clone();
        for length in [1_000, 250, 8, 3_242] {
            pieces.pass(Ms(length), Pace::Short);
        }
        let mut once = start.clone();
        once.pass(Ms(4_500), Pace::Short);
        assert_eq!(pieces.senses(), once.senses());
        assert_eq!(pieces.mist(), once.mist());
        once.pass(Ms::secs(56), Pace::Short);
        assert!(matches!(once.place(), Place::Asked(_)));
        let mut still = start.clone();
        still.pass(Ms::mins(20), Pace::Steps);
        assert_eq!(still, start);
    }

    #[test]
    fn the_mist_rises_with_the_squeezes_and_fades_between_them() {
        let mut worker = masked(Orientation::begin(Agent::Sweet, 3));
        let mut seen = Vec::new();
        while worker.goes_on() {
            seen.push((worker.mist(), worker.sprays()));
            worker.advance(Ms(500));
        }
        assert_eq!(seen.first(), Some(&(0, true)));
        assert!(seen.windows(2).any(|pair| pair[1].0 < pair[0].0 && !pair[1].1));
        assert!(seen.windows(2).any(|pair| pair[1].0 > pair[0].0 && pair[1].1));
        assert!(seen.iter().skip(60).all(|(mist, _)| (2..=5).contains(mist)), "{seen:?}");
    }

    #[test]
    fn five_questions_are_asked_and_each_is_left_out_by_some_seed() {
        let mut left_out = BTreeSet::new();
        for seed in 0..60 {
            let asked = Orientation::begin(Agent::Sweet, seed).questions(6);
            assert_eq!(asked.len(), QUESTIONS);
            assert!(asked.is_sorted() && asked.iter().all(|place| *place < 6));
            left_out.extend((0..6).filter(|place| !asked.contains(place)));
        }
        assert_eq!(left_out.len(), 6);
        assert_eq!(Orientation::begin(Agent::Sweet, 1).questions(3), [0, 1, 2]);
        assert!(Orientation::begin(Agent::Sweet, 1).questions(0).is_empty());
    }

    #[test]
    fn half_the_stories_leak() {
        let count = |of: &dyn Fn(Tale) -> bool| {
            (0..2_000).filter(|seed| of(Orientation::begin(Agent::Sweet, *seed).hidden.tale)).count()
        };
        // Five standard deviations of counts with means 1000 and 500.
        assert!(count(&|tale| matches!(tale, Tale::Leak(_))).abs_diff(1_000) < 112);
        assert!(count(&|tale| tale == Tale::Fits).abs_diff(500) < 97);
        for opens in [Exercise::HeadUpDown, Exercise::Talking, Exercise::Bending] {
            assert!(count(&|tale| tale == Tale::Leak(opens)) > 200);
        }
    }
}
