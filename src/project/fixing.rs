//! What holds a top flat and to its base, worked out.

use super::given::Given;
use super::raw::FastenersText;
use super::resolve::Resolver;
use crate::model::fixing::{Fasteners, MadeFasteners};

impl Given for Fasteners {
    type Text = FastenersText;

    fn work_out(text: &FastenersText, resolver: &mut Resolver) -> Option<Self> {
        match text {
            FastenersText::Words(words) => Some(Fasteners::Words(words.clone())),
            FastenersText::Made(made) => MadeFasteners::work_out(made, resolver).map(Fasteners::Made),
        }
    }
}
