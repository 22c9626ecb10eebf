//! The quiet notice that a newer version of the page is ready.

use crate::{
    edge::offline::{self, Offline},
    shell::Keeping,
    words::{Word, Words},
};
use yew::prelude::*;

/// The notice; nothing where there is none. Where acts are in memory only, loading anew would lose them: the newer version
/// is not offered then.
pub(crate) fn newer(words: &Words, offline: Offline, keeping: &Keeping) -> Html {
    let (word, offered) = match (offline, keeping) {
        (Offline::Newer, Keeping::Memory) => (Word::OfflineNewerMemory, false),
        (Offline::Newer, Keeping::Opening | Keeping::Device(_)) => (Word::OfflineNewer, true),
        (Offline::Taken, Keeping::Opening | Keeping::Device(_)) => (Word::OfflineTaken, true),
        (Offline::Taken, Keeping::Memory)
        | (Offline::Insecure | Offline::Frame | Offline::Unavailable | Offline::Coming | Offline::Ready, _) => {
            return Html::default();
        }
    };
    html! {
        <div class="notice newer" role="status">
            <p>{ words.get(word) }</p>
            if offered {
                <button type="button" id="take-newer" class="main" onclick={|_: MouseEvent| offline::take_newer()}>{ words.get(Word::OfflineTake) }</button>
            }
        </div>
    }
}
