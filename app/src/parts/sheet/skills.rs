//! How each skill stood.

use crate::words::{Word, Words};
use bittersweet_core::{
    hint::{self, Hint},
    review::Review,
    rulebook::Rulebook,
    source::Skill,
};
use yew::prelude::*;

/// The eight skills.
pub(crate) fn skills(words: &Words, book: &Rulebook, review: &Review, hints: &[Hint]) -> Html {
    let cost = hint::cost(book, hints);
    html! {
        <section aria-labelledby="skills-title" class="skills">
            <h2 id="skills-title">{ words.get(Word::SkillsTitle) }</h2>
            <table>
                <thead>
                    <tr><th scope="col">{ words.get(Word::SkillsSkill) }</th><th scope="col">{ words.get(Word::SkillsKept) }</th></tr>
                </thead>
                <tbody>
                    { for Skill::ALL.iter().map(|skill| {
                        let tally = review.skills.get(skill).copied().unwrap_or_default();
                        let kept = if tally.came_up == 0 {
                            words.get(Word::SkillsNone)
                        } else {
                            words.fill(Word::SkillsOf, &[("kept", &tally.kept.to_string()), ("all", &tally.came_up.to_string())])
                        };
                        let less = cost.get(skill).map(|halves| words.fill(Word::HintSkillCost, &[("halves", &in_halves(*halves))]));
                        html! { <tr key={skill.code()}><th scope="row">{ words.of(&format!("skill.{}", skill.code())) }</th><td>{ kept }{ for less }</td></tr> }
                    }) }
                </tbody>
            </table>
        </section>
    }
}

/// `1`, `1½`, `½`.
fn in_halves(halves: u32) -> String {
    match (halves / 2, halves % 2) {
        (0, 1) => "½".to_owned(),
        (whole, 0) => whole.to_string(),
        (whole, _) => format!("{whole}½"),
    }
}
