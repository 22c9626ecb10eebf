//! Everything a test conductor does, as acts.
//!
//! An act is what was done, not whether it was right: wrong acts are acts too. In files an act is a code and, where it
//! has one, what it was done with.

use crate::{coded::coded, units::Ms};

coded! {
    /// The two nebulizers, by the solution they are for.
    Role {
        /// For screening, with the threshold check solution.
        Check = "check",
        /// For the fit test, with the fit test solution.
        Fit = "fit",
    }
}

coded! {
    /// Who else can hear.
    Company {
        /// Nobody.
        Private = "private",
        /// The queue.
        Public = "public",
    }
}

coded! {
    /// What the wearer is told.
    Topic {
        /// The whole screening and test.
        Procedure = "procedure",
        /// That the aim is the most acceptable fit.
        Aim = "aim",
        /// Putting on, position, straps, judging the fit.
        Donning = "donning",
        /// Mouth open, tongue out, hands off, say any taste at once.
        Duties = "duties",
        /// The seven exercises.
        Exercises = "exercises",
        /// Only the mask can fail.
        MaskFails = "mask-fails",
        /// Remember this taste.
        Remember = "remember",
    }
}

coded! {
    /// Where the nozzle points.
    Aim {
        /// Away from nose and mouth.
        Away = "away",
        /// At the mouth.
        AtMouth = "at-mouth",
    }
}

coded! {
    /// How the taste is asked about.
    Manner {
        /// What, if anything, do you taste?
        Neutral = "neutral",
        /// You can taste that, can't you?
        TowardsYes = "towards-yes",
        /// You don't taste anything, do you?
        TowardsNo = "towards-no",
    }
}

coded! {
    /// The threshold class, by the set in which it was tasted.
    Threshold {
        /// Within the first ten.
        Ten = "10",
        /// Within the second ten.
        Twenty = "20",
        /// Within the third ten.
        Thirty = "30",
        /// Not at thirty.
        NotTasted = "not-tasted",
    }
}

coded! {
    /// Whose hands put the facepiece on.
    Hands {
        /// The wearer's.
        Own = "own",
        /// A helper's.
        Helped = "helped",
    }
}

coded! {
    /// How the user seal check is done.
    Method {
        /// Positive and negative, the negative one held ten seconds.
        Both = "both",
        /// The maker's own, of equal worth.
        Makers = "makers",
        /// A hand passed across the front.
        Quick = "quick",
    }
}

coded! {
    /// What a wearer can be asked to do while the hood is on.
    Exercise {
        /// First of the seven, and last.
        NormalBreathing = "normal-breathing",
        /// Slow and deep.
        DeepBreathing = "deep-breathing",
        /// Head side to side, a breath at each side.
        HeadSide = "head-side",
        /// Head up and down, a breath when looking up.
        HeadUpDown = "head-up-down",
        /// Talking aloud.
        Talking = "talking",
        /// Smile or frown; not part of a taste test.
        Grimace = "grimace",
        /// Bending at the waist.
        Bending = "bending",
        /// Jogging in place, where the hood does not allow bending.
        Jogging = "jogging",
        /// The last of the seven.
        NormalAgain = "normal-again",
    }
}

impl Exercise {
    /// The seven exercises of a taste test, in order (App. A I.A.14(a)).
    pub const SEVEN: [Self; 7] = [
        Self::NormalBreathing,
        Self::DeepBreathing,
        Self::HeadSide,
        Self::HeadUpDown,
        Self::Talking,
        Self::Bending,
        Self::NormalAgain,
    ];

    /// Which of the seven it stands for: jogging for bending, a grimace for none.
    #[must_use]
    pub const fn as_one_of_seven(self) -> Option<Self> {
        match self {
            Self::Jogging => Some(Self::Bending),
            Self::Grimace => None,
            Self::NormalBreathing
            | Self::DeepBreathing
            | Self::HeadSide
            | Self::HeadUpDown
            | Self::Talking
            | Self::Bending
            | Self::NormalAgain => Some(self),
        }
    }

    /// Its place among the seven, from 0.
    #[must_use]
    pub fn place(self) -> Option<usize> {
        let stands_for = self.as_one_of_seven()?;
        Self::SEVEN.iter().position(|one| *one == stands_for)
    }
}

coded! {
    /// A word to the wearer while something goes on.
    Reminder {
        /// Mouth slightly open, tongue out.
        Breathing = "breathing",
        /// Hands off the mask.
        HandsOff = "hands-off",
        /// Slowly, with a breath at each end.
        Slowly = "slowly",
        /// Louder.
        Louder = "louder",
        /// Standing, please.
        Stand = "stand",
        /// Say or show any taste at once.
        SayTaste = "say-taste",
    }
}

coded! {
    /// What a conductor can note having seen.
    Observation {
        /// Mouth closed, tongue in, breathing by the nose.
        MouthClosed = "mouth-closed",
        /// Facepiece or straps touched.
        MaskTouched = "mask-touched",
        /// Facepiece or straps adjusted.
        MaskAdjusted = "mask-adjusted",
        /// The facepiece slipped by itself.
        MaskSlipped = "mask-slipped",
        /// The hood was lifted or came off.
        HoodOff = "hood-off",
        /// The window is too near the face.
        HoodNear = "hood-near",
        /// The wearer sits.
        Seated = "seated",
        /// Movements too fast, no breath at the ends.
        Rushed = "rushed",
        /// Talking too softly to hear.
        Whispering = "whispering",
        /// The nebulizer does not spray as it should.
        Clogged = "clogged",
        /// A sign or a word of taste.
        Taste = "taste",
        /// Salty, plastic or "funny".
        OddTaste = "odd-taste",
        /// Agent where it should not be.
        Residue = "residue",
        /// The wearer is unwell or afraid, or wants to stop.
        Distress = "distress",
        /// Something that does not matter to the test.
        Harmless = "harmless",
    }
}

coded! {
    /// Why somebody was not tested today.
    Bar {
        /// No clearance, or not for this.
        Clearance = "clearance",
        /// Hair at the seal, or something under it that stays.
        Seal = "seal",
        /// Something by mouth too recently.
        Mouth = "mouth",
        /// This exposure, class or cartridge is not for this test.
        Use = "use",
        /// No facepiece fit to be tested.
        Facepiece = "facepiece",
        /// The wearer would rather not today.
        Wish = "wish",
    }
}

coded! {
    /// Why a test was stopped for the wearer's sake.
    Cause {
        /// Emergency signs.
        Emergency = "emergency",
        /// Trouble breathing.
        Breathing = "breathing",
        /// Fear, or a wish to stop.
        Wish = "wish",
        /// An alarm: everybody out.
        Alarm = "alarm",
    }
}

/// The six results.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    /// The whole test, and no taste reported.
    Pass,
    /// A taste was reported.
    Fail,
    /// Spoilt: start over.
    Invalid,
    /// Not tasted at thirty squeezes.
    CannotTaste,
    /// Not tested today.
    NotTested(Bar),
    /// Stopped for the wearer's safety or wish.
    Stopped(Cause),
}

impl Verdict {
    /// Whether it is a result of a screening or a test, and not a word on the person or the day.
    #[must_use]
    pub const fn is_of_an_attempt(self) -> bool {
        match self {
            Self::Pass | Self::Fail | Self::Invalid | Self::CannotTaste => true,
            Self::NotTested(_) | Self::Stopped(_) => false,
        }
    }

    /// Every result with every reason.
    pub fn all() -> impl Iterator<Item = Self> {
        [Self::Pass, Self::Fail, Self::Invalid, Self::CannotTaste]
            .into_iter()
            .chain(Bar::ALL.iter().copied().map(Self::NotTested))
            .chain(Cause::ALL.iter().copied().map(Self::Stopped))
    }

    /// The code that stands for it in files: `pass`, or `not-tested:seal`.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Pass => "pass",
            Self::Fail => "fail",
            Self::Invalid => "invalid",
            Self::CannotTaste => "cannot-taste",
            Self::NotTested(Bar::Clearance) => "not-tested:clearance",
            Self::NotTested(Bar::Seal) => "not-tested:seal",
            Self::NotTested(Bar::Mouth) => "not-tested:mouth",
            Self::NotTested(Bar::Use) => "not-tested:use",
            Self::NotTested(Bar::Facepiece) => "not-tested:facepiece",
            Self::NotTested(Bar::Wish) => "not-tested:wish",
            Self::Stopped(Cause::Emergency) => "stopped:emergency",
            Self::Stopped(Cause::Breathing) => "stopped:breathing",
            Self::Stopped(Cause::Wish) => "stopped:wish",
            Self::Stopped(Cause::Alarm) => "stopped:alarm",
        }
    }

    /// The result with this code, if there is one.
    #[must_use]
    pub fn from_code(code: &str) -> Option<Self> {
        Self::all().find(|verdict| verdict.code() == code)
    }
}

coded! {
    /// What is decided after a result.
    NextStep {
        /// May use this facepiece.
        Cleared = "cleared",
        /// A different facepiece, and everything again, screening included.
        OtherFacepiece = "other-facepiece",
        /// The same facepiece put on again, and the fit test again.
        RefitSame = "refit-same",
        /// The fit test again, for a spoilt one.
        TestAgain = "test-again",
        /// Screening again, and all that follows it.
        ScreenAgain = "screen-again",
        /// The other taste agent.
        OtherAgent = "other-agent",
        /// A quantitative test.
        Quantitative = "quantitative",
        /// To a physician or other licensed health care professional.
        Refer = "refer",
        /// Back once what stood in the way is put right.
        PutRight = "put-right",
        /// Rest, another day.
        AnotherDay = "another-day",
    }
}

impl NextStep {
    /// Whether testing goes on at once.
    #[must_use]
    pub const fn is_again(self) -> bool {
        matches!(self, Self::OtherFacepiece | Self::RefitSame | Self::TestAgain | Self::ScreenAgain)
    }
}

coded! {
    /// A field of the fit-test record; the first five are 1910.134(m)(2)(i)(A) to (E).
    Field {
        /// Who was tested.
        Wearer = "wearer",
        /// Which test.
        Test = "test",
        /// Make, model, style and size.
        Facepiece = "facepiece",
        /// When.
        Date = "date",
        /// Pass or fail.
        Result = "result",
        /// A note on health, which does not belong there.
        Health = "health",
        /// Who ran the test: good practice, no law.
        Conductor = "conductor",
        /// The threshold that was noted: good practice, no law.
        Threshold = "threshold",
    }
}

/// A set of record fields.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Fields(u8);

impl Fields {
    /// The five fields of the law.
    pub const FIVE: Self = Self(0b1_1111);

    /// With `field` added, or taken out if it was in.
    #[must_use]
    pub const fn toggled(self, field: Field) -> Self {
        Self(self.0 ^ (1 << field as u8))
    }

    /// Whether `field` is in.
    #[must_use]
    pub const fn has(self, field: Field) -> bool {
        self.0 & (1 << field as u8) != 0
    }

    /// Whether all of the five of the law are in.
    #[must_use]
    pub const fn has_the_five(self) -> bool {
        self.0 & Self::FIVE.0 == Self::FIVE.0
    }

    /// Codes joined by commas.
    fn joined(self) -> String {
        Field::ALL.iter().filter(|field| self.has(**field)).map(|field| field.code()).collect::<Vec<_>>().join(",")
    }

    fn parse(text: &str) -> Option<Self> {
        text.split(',').filter(|part| !part.is_empty()).try_fold(Self::default(), |fields, part| {
            let field = Field::from_code(part)?;
            (!fields.has(field)).then(|| fields.toggled(field))
        })
    }
}

/// A place on the rack, counted from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Slot(u8);

impl Slot {
    /// How many facepieces a rack can hold.
    pub const MOST: u8 = 12;

    /// Place `number`, from 1 to [`Slot::MOST`].
    #[must_use]
    pub const fn new(number: u8) -> Option<Self> {
        if number >= 1 && number <= Self::MOST { Some(Self(number)) } else { None }
    }

    /// The number, from 1.
    #[must_use]
    pub const fn number(self) -> u8 {
        self.0
    }
}

coded! {
    /// Where an act belongs in the course of a test.
    Phase {
        /// Who may be tested, in what, for what use.
        Who = "who",
        /// Solutions and equipment.
        Bench = "bench",
        /// What the wearer is told.
        Briefing = "briefing",
        /// Taste screening.
        Screening = "screening",
        /// Choosing and fitting the facepiece.
        Facepiece = "facepiece",
        /// The fit test.
        Test = "test",
        /// Result, next step, record.
        Result = "result",
        /// Leaving the room as it should be.
        After = "after",
    }
}

/// What the conductor does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[expect(missing_docs, reason = "each variant is named for what it does; the words for people stand in data/words")]
pub enum Act {
    AskClearance,
    ReadQuestionnaire,
    ReturnQuestionnaire,
    AskMouth,
    AskWell(Company),
    LookAtFace,
    ClearSeal,
    AskGear,
    AskWorkFacepiece,
    CheckUse,
    CheckNebulizer(Role),
    LabelNebulizer(Role),
    RinseNebulizer(Role),
    CheckBottle(Role),
    FreshBottle(Role),
    FillNebulizer(Role),
    TestSpray(Role),
    ClearNebulizer(Role),
    CheckHood,
    WipeHood,
    GlovesOn,
    GlovesOff,
    Explain(Topic),
    GiveMirror,
    HearBack,
    AgreeSignals,
    CountAsTraining,
    HoodOn,
    HoodOff,
    SetGap,
    Take(Role),
    PutDown,
    Aim(Aim),
    Squeeze,
    Ask(Manner),
    AnswerSignal,
    NoteThreshold(Threshold),
    GiveWater,
    WipeFace,
    LetChoose,
    HoldToFace,
    NoteRunnerUp,
    HandOver(Slot),
    InspectFacepiece,
    FitFilters,
    SetNegative,
    Don(Hands),
    Doff,
    CheckAdequacy,
    FixStraps,
    SeatMask,
    SealCheck(Method),
    GearOn,
    ReviewComfort,
    Begin(Exercise),
    End,
    Remind(Reminder),
    Note(Observation),
    Stop,
    CallHelp,
    Give(Verdict),
    Next(NextStep),
    TellResult(Company),
    TellScope,
    Record(Fields),
    SignUntested,
    AdmitSecond,
    SetAside,
    RestoreMode,
    Disinfect,
    Wait(Ms),
    Finish,
}

/// The acts with nothing to be done with, under their codes: one table, so that writing and reading cannot differ.
const PLAIN: &[(Act, &str)] = &[
    (Act::AskClearance, "ask-clearance"),
    (Act::ReadQuestionnaire, "read-questionnaire"),
    (Act::ReturnQuestionnaire, "return-questionnaire"),
    (Act::AskMouth, "ask-mouth"),
    (Act::LookAtFace, "look-at-face"),
    (Act::ClearSeal, "clear-seal"),
    (Act::AskGear, "ask-gear"),
    (Act::AskWorkFacepiece, "ask-work-facepiece"),
    (Act::CheckUse, "check-use"),
    (Act::CheckHood, "check-hood"),
    (Act::WipeHood, "wipe-hood"),
    (Act::GlovesOn, "gloves-on"),
    (Act::GlovesOff, "gloves-off"),
    (Act::GiveMirror, "give-mirror"),
    (Act::HearBack, "hear-back"),
    (Act::AgreeSignals, "agree-signals"),
    (Act::CountAsTraining, "count-as-training"),
    (Act::HoodOn, "hood-on"),
    (Act::HoodOff, "hood-off"),
    (Act::SetGap, "set-gap"),
    (Act::PutDown, "put-down"),
    (Act::Squeeze, "squeeze"),
    (Act::AnswerSignal, "answer-signal"),
    (Act::GiveWater, "give-water"),
    (Act::WipeFace, "wipe-face"),
    (Act::LetChoose, "let-choose"),
    (Act::HoldToFace, "hold-to-face"),
    (Act::NoteRunnerUp, "note-runner-up"),
    (Act::InspectFacepiece, "inspect-facepiece"),
    (Act::FitFilters, "fit-filters"),
    (Act::SetNegative, "set-negative"),
    (Act::Doff, "doff"),
    (Act::CheckAdequacy, "check-adequacy"),
    (Act::FixStraps, "fix-straps"),
    (Act::SeatMask, "seat-mask"),
    (Act::GearOn, "gear-on"),
    (Act::ReviewComfort, "review-comfort"),
    (Act::End, "end"),
    (Act::Stop, "stop"),
    (Act::CallHelp, "call-help"),
    (Act::TellScope, "tell-scope"),
    (Act::SignUntested, "sign-untested"),
    (Act::AdmitSecond, "admit-second"),
    (Act::SetAside, "set-aside"),
    (Act::RestoreMode, "restore-mode"),
    (Act::Disinfect, "disinfect"),
    (Act::Finish, "finish"),
];

/// The longest wait that is one act: an hour.
pub const LONGEST_WAIT: Ms = Ms::mins(60);

impl Act {
    /// Every act that can be written down, waits and record fields by an example each.
    #[must_use]
    pub fn all() -> Vec<Self> {
        let mut acts: Vec<Self> = PLAIN.iter().map(|(act, _)| *act).collect();
        for role in Role::ALL.iter().copied() {
            acts.extend([
                Self::CheckNebulizer(role),
                Self::LabelNebulizer(role),
                Self::RinseNebulizer(role),
                Self::CheckBottle(role),
                Self::FreshBottle(role),
                Self::FillNebulizer(role),
                Self::TestSpray(role),
                Self::ClearNebulizer(role),
                Self::Take(role),
            ]);
        }
        acts.extend(Company::ALL.iter().flat_map(|who| [Self::AskWell(*who), Self::TellResult(*who)]));
        acts.extend(Topic::ALL.iter().map(|topic| Self::Explain(*topic)));
        acts.extend(Aim::ALL.iter().map(|aim| Self::Aim(*aim)));
        acts.extend(Manner::ALL.iter().map(|manner| Self::Ask(*manner)));
        acts.extend(Threshold::ALL.iter().map(|threshold| Self::NoteThreshold(*threshold)));
        acts.extend((1..=Slot::MOST).filter_map(Slot::new).map(Self::HandOver));
        acts.extend(Hands::ALL.iter().map(|hands| Self::Don(*hands)));
        acts.extend(Method::ALL.iter().map(|method| Self::SealCheck(*method)));
        acts.extend(Exercise::ALL.iter().map(|exercise| Self::Begin(*exercise)));
        acts.extend(Reminder::ALL.iter().map(|reminder| Self::Remind(*reminder)));
        acts.extend(Observation::ALL.iter().map(|observation| Self::Note(*observation)));
        acts.extend(Verdict::all().map(Self::Give));
        acts.extend(NextStep::ALL.iter().map(|step| Self::Next(*step)));
        acts.extend([Self::Record(Fields::FIVE), Self::Wait(Ms::secs(30))]);
        acts
    }

    /// Whether it says what was found or what follows: a threshold, a result, a next step.
    #[must_use]
    pub const fn is_decision(self) -> bool {
        matches!(self, Self::NoteThreshold(_) | Self::Give(_) | Self::Next(_))
    }

    /// The code that stands for it in files, and what it was done with.
    ///
    /// ```
    /// use bittersweet_core::act::{Act, Role};
    /// let (code, with) = Act::Take(Role::Fit).code();
    /// assert_eq!((code, with.as_deref()), ("take", Some("fit")));
    /// assert_eq!(Act::from_code("take", Some("fit")), Some(Act::Take(Role::Fit)));
    /// ```
    #[must_use]
    #[expect(clippy::wildcard_enum_match_arm, reason = "the rest have no `with` and stand in one table")]
    pub fn code(self) -> (&'static str, Option<String>) {
        let (code, with) = match self {
            Self::AskWell(who) => ("ask-well", who.code()),
            Self::CheckNebulizer(role) => ("check-nebulizer", role.code()),
            Self::LabelNebulizer(role) => ("label-nebulizer", role.code()),
            Self::RinseNebulizer(role) => ("rinse-nebulizer", role.code()),
            Self::CheckBottle(role) => ("check-bottle", role.code()),
            Self::FreshBottle(role) => ("fresh-bottle", role.code()),
            Self::FillNebulizer(role) => ("fill-nebulizer", role.code()),
            Self::TestSpray(role) => ("test-spray", role.code()),
            Self::ClearNebulizer(role) => ("clear-nebulizer", role.code()),
            Self::Explain(topic) => ("explain", topic.code()),
            Self::Take(role) => ("take", role.code()),
            Self::Aim(aim) => ("aim", aim.code()),
            Self::Ask(manner) => ("ask", manner.code()),
            Self::NoteThreshold(threshold) => ("note-threshold", threshold.code()),
            Self::HandOver(slot) => return ("hand-over", Some(slot.number().to_string())),
            Self::Don(hands) => ("don", hands.code()),
            Self::SealCheck(method) => ("seal-check", method.code()),
            Self::Begin(exercise) => ("begin", exercise.code()),
            Self::Remind(reminder) => ("remind", reminder.code()),
            Self::Note(observation) => ("note", observation.code()),
            Self::Give(verdict) => ("give", verdict.code()),
            Self::Next(step) => ("next", step.code()),
            Self::TellResult(who) => ("tell-result", who.code()),
            Self::Record(fields) => return ("record", Some(fields.joined())),
            Self::Wait(length) => return ("wait", Some(length.0.to_string())),
            plain => {
                let code = PLAIN.iter().find(|(act, _)| *act == plain).map_or("", |(_, code)| *code);
                return (code, None);
            }
        };
        (code, Some(with.to_owned()))
    }

    /// The act with this code; `None` where there is none, or `with` is not one of its own.
    #[must_use]
    pub fn from_code(code: &str, with: Option<&str>) -> Option<Self> {
        let Some(with) = with else {
            return PLAIN.iter().find(|(_, name)| *name == code).map(|(act, _)| *act);
        };
        match code {
            "ask-well" => Company::from_code(with).map(Self::AskWell),
            "check-nebulizer" => Role::from_code(with).map(Self::CheckNebulizer),
            "label-nebulizer" => Role::from_code(with).map(Self::LabelNebulizer),
            "rinse-nebulizer" => Role::from_code(with).map(Self::RinseNebulizer),
            "check-bottle" => Role::from_code(with).map(Self::CheckBottle),
            "fresh-bottle" => Role::from_code(with).map(Self::FreshBottle),
            "fill-nebulizer" => Role::from_code(with).map(Self::FillNebulizer),
            "test-spray" => Role::from_code(with).map(Self::TestSpray),
            "clear-nebulizer" => Role::from_code(with).map(Self::ClearNebulizer),
            "explain" => Topic::from_code(with).map(Self::Explain),
            "take" => Role::from_code(with).map(Self::Take),
            "aim" => Aim::from_code(with).map(Self::Aim),
            "ask" => Manner::from_code(with).map(Self::Ask),
            "note-threshold" => Threshold::from_code(with).map(Self::NoteThreshold),
            "hand-over" => with.parse().ok().and_then(Slot::new).map(Self::HandOver),
            "don" => Hands::from_code(with).map(Self::Don),
            "seal-check" => Method::from_code(with).map(Self::SealCheck),
            "begin" => Exercise::from_code(with).map(Self::Begin),
            "remind" => Reminder::from_code(with).map(Self::Remind),
            "note" => Observation::from_code(with).map(Self::Note),
            "give" => Verdict::from_code(with).map(Self::Give),
            "next" => NextStep::from_code(with).map(Self::Next),
            "tell-result" => Company::from_code(with).map(Self::TellResult),
            "record" => Fields::parse(with).map(Self::Record),
            "wait" => with.parse().ok().map(Ms).filter(|length| *length <= LONGEST_WAIT).map(Self::Wait),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_act_is_read_back_from_its_code() {
        for act in Act::all() {
            let (code, with) = act.code();
            assert!(!code.is_empty(), "{act:?} has no code");
            assert_eq!(Act::from_code(code, with.as_deref()), Some(act));
        }
    }

    #[test]
    fn a_field_twice_is_no_set_of_fields() {
        assert_eq!(Act::from_code("record", Some("date,date")), None);
        assert_eq!(Act::from_code("record", Some("")), Some(Act::Record(Fields::default())));
    }

    #[test]
    fn more_than_the_five_are_the_five_still() {
        let all = Field::ALL.iter().fold(Fields::default(), |fields, field| fields.toggled(*field));
        assert!(Fields::FIVE.has_the_five() && all.has_the_five());
        assert_eq!(Fields::parse(&all.joined()), Some(all), "each has a place of its own");
        for field in Field::ALL.iter().copied() {
            assert_eq!(all.toggled(field).has_the_five(), !Fields::FIVE.has(field), "{field:?}");
        }
    }

    #[test]
    fn a_wait_has_an_end() {
        assert_eq!(Act::from_code("wait", Some("3600001")), None);
    }
}
