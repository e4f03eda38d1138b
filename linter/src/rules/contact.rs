//! Rules about what contacts close onto.

pub mod inrush;
