//! The options of a list to choose from.

use yew::{
    prelude::*,
    virtual_dom::{AttributeOrProperty, Attributes, VTag, VText},
};

/// Options by value and name, one of them chosen. That is set as a property: the attribute counts only until a hand has chosen,
/// and some lists are moved on by the page as well.
pub(crate) fn options<Value: Into<AttrValue>, Name: Into<AttrValue>>(
    offered: impl IntoIterator<Item = (Value, Name)>,
    chosen: &str,
) -> Html {
    offered
        .into_iter()
        .map(|(value, name)| {
            let value = value.into();
            let mut option = VTag::new("option");
            option.set_attributes(Attributes::Dynamic {
                keys: &["selected", "value"],
                values: Box::new([
                    Some(AttributeOrProperty::Property((*value == *chosen).into())),
                    Some(AttributeOrProperty::Attribute(value)),
                ]),
            });
            option.add_child(VText::new(name.into()).into());
            Html::from(option)
        })
        .collect()
}
