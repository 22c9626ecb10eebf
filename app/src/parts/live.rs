//! A session as a property: alike as long as nothing but time has passed.

use crate::session::Session;
use std::{ops::Deref, rc::Rc};

/// A session whose parts are drawn again only when something was done or shown.
#[derive(Clone, Debug)]
pub(crate) struct Live(pub(crate) Rc<Session>);

impl PartialEq for Live {
    fn eq(&self, other: &Self) -> bool {
        let (ours, theirs) = (&self.0, &other.0);
        ours.id == theirs.id && ours.revision == theirs.revision && ours.run.log().len() == theirs.run.log().len()
    }
}

impl Deref for Live {
    type Target = Session;

    fn deref(&self) -> &Session {
        &self.0
    }
}
