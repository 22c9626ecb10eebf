//! The record as a form: which fields go into it is the trainee's to say.

use crate::{
    parts::bench::no_repeat,
    words::{Word, Words},
};
use bittersweet_core::act::{Field, Fields};
use yew::prelude::*;

/// Properties of [`RecordForm`].
#[derive(Properties, PartialEq)]
pub(crate) struct RecordFormProps {
    /// The words.
    pub(crate) words: Words,
    /// The record is made.
    pub(crate) on_record: Callback<Fields>,
}

/// The form.
#[component]
pub(crate) fn RecordForm(props: &RecordFormProps) -> Html {
    let words = &props.words;
    let fields = use_state(Fields::default);
    let record = {
        let (fields, on_record) = (fields.clone(), props.on_record.clone());
        move |_: MouseEvent| on_record.emit(*fields)
    };
    html! {
        <fieldset class="group record">
            <legend>{ words.get(Word::GroupRecord) }</legend>
            { for Field::ALL.iter().copied().map(|field| {
                let onchange = {
                    let fields = fields.clone();
                    move |_: Event| fields.set(fields.toggled(field))
                };
                html! {
                    <label key={field.code()}>
                        <input type="checkbox" id={format!("field-{}", field.code())} checked={fields.has(field)} {onchange} />
                        <span>{ words.of(&format!("field.{}", field.code())) }</span>
                    </label>
                }
            }) }
            <button type="button" id="record" onkeydown={no_repeat} onclick={record}>{ words.get(Word::RecordButton) }</button>
        </fieldset>
    }
}
