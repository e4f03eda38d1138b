//! Rules about accepted risks themselves. They are judged by [`crate::accept`] when every other rule has spoken.

pub mod expired;
pub mod unused;
