//! What the layout looks like.
