//! The one layout: what it looks like, and what it never changes.

mod layout;
mod pages;
mod program;
mod promises;
mod same;
