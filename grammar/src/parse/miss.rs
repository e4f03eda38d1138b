//! What the grammar missed: where it could not go on, and what would have fitted there.
//!
//! The grammar runs twice over a statement that does not fit it. The first run keeps no record and is quick; only the
//! second makes a [`Miss`], so a file without mistakes never pays for them.

use chumsky::{
    DefaultExpected,
    error::{EmptyErr, Error, LabelError},
    span::SimpleSpan,
    util::MaybeRef,
};

use super::{lexeme::Lexeme, source::Input};

/// Something that the grammar can look for. In order of importance: a message names the first few.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Due {
    Name,
    End,
    To,
    With,
    Is,
    As,
    Path,
    Base,
    Comparison,
    Relation,
    When,
    State,
    Because,
    Reason,
    On,
    Date,
    Number,
    Text,
    Equal,
    Value,
    AnyFault,
    What,
    Setting,
    Block,
    Close,
    CloseParen,
    In,
    Under,
    Until,
    At,
    LineEnd,
    Operator,
}

impl Due {
    const fn bit(self) -> u64 {
        1 << (self as u64)
    }
}

/// Where a statement went wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Miss {
    /// The lexeme, counted from the statement's first, that did not fit; past the last at the statement's end.
    pub at: usize,
    /// A set of [`Due`]s.
    due: u64,
}

impl Miss {
    /// Whether `due` would have fitted.
    pub(super) const fn wants(&self, due: Due) -> bool {
        self.due & due.bit() != 0
    }

    /// Whether `due` alone would have fitted, but for a sign that makes more of what stands before.
    pub(super) const fn wants_only(&self, due: Due) -> bool {
        self.due | Due::Operator.bit() == due.bit() | Due::Operator.bit()
    }
}

impl<'s> Error<'s, Input<'s>> for Miss {
    fn merge(self, other: Self) -> Self {
        Self { at: self.at, due: self.due | other.due }
    }
}

/// Productions without a label of their own add nothing to what is due.
impl<'s> LabelError<'s, Input<'s>, DefaultExpected<'s, Lexeme>> for Miss {
    fn expected_found<E: IntoIterator<Item = DefaultExpected<'s, Lexeme>>>(
        _: E,
        _: Option<MaybeRef<'s, Lexeme>>,
        span: SimpleSpan<usize>,
    ) -> Self {
        Self { at: span.start, due: 0 }
    }
}

impl<'s> LabelError<'s, Input<'s>, Due> for Miss {
    fn expected_found<E: IntoIterator<Item = Due>>(
        expected: E,
        _: Option<MaybeRef<'s, Lexeme>>,
        span: SimpleSpan<usize>,
    ) -> Self {
        Self { at: span.start, due: expected.into_iter().fold(0, |set, due| set | due.bit()) }
    }

    fn label_with(&mut self, label: Due) {
        self.due = label.bit();
    }
}

/// The two records that a run of the grammar can keep.
pub(super) trait Record<'s>: Error<'s, Input<'s>> + LabelError<'s, Input<'s>, Due> + 's {}

impl<'s> Record<'s> for Miss {}
impl<'s> Record<'s> for EmptyErr {}
