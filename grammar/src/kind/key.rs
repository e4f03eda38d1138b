//! The keys of ratings and facts, once each, so that no other file spells them.

/// Declares keys, and the list of them in the order declared.
macro_rules! keys {
    ($list:ident: $($(#[$doc:meta])* $name:ident = $text:literal;)*) => {
        $($(#[$doc])* pub const $name: &str = $text;)*
        pub(super) const $list: &[&str] = &[$($text),*];
    };
}

mod built;
mod part;

pub use built::*;
pub use part::*;

/// Every key, in the order declared.
pub const ALL: &[&str] = &{
    let mut all = [""; OF_PARTS.len() + OF_BUILD.len()];
    let mut at = 0;
    while at < all.len() {
        all[at] = if at < OF_PARTS.len() { OF_PARTS[at] } else { OF_BUILD[at - OF_PARTS.len()] };
        at += 1;
    }
    all
};
