//! Values: quantities, ranges, tolerances, sums, words, paths, texts, dates.

use chumsky::{input::MapExtra, prelude::*, primitive::select_ref};

use super::{
    Extra, Rule,
    atom::{mark, one},
};
use crate::{
    parse::{
        lexeme::{Lexeme, Sign},
        miss::{Due, Record},
        source::Input,
        words::Word,
    },
    span::Span,
    syntax::{Operator, Shape, Value},
};

/// Where a value stands, which decides the words that cannot be one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Place {
    /// On a statement's line, among words that join its parts.
    Line,
    /// In a block.
    Block,
}

impl Place {
    /// Whether a lexeme can be a value by itself.
    const fn admits(self, sign: Sign) -> bool {
        match (self, sign) {
            (Self::Line, Sign::Word(word)) => !word.joins(),
            (Self::Block, Sign::Word(word)) => !matches!(word, Word::To),
            _ => is_plain(sign),
        }
    }
}

/// A value. Most are a single lexeme; only those with operators take the long way.
pub(super) fn value<'s, R: Record<'s>>(place: Place) -> Rule<'s, Value, R> {
    let single = select_ref(move |lexeme: &'s Lexeme, e: &mut MapExtra<'s, '_, Input<'s>, Extra<'s, R>>| {
        (lexeme.alone && place.admits(lexeme.sign)).then(|| e.state().plain_value(lexeme))
    });
    let larger = select_ref(|lexeme: &'s Lexeme, _: &mut MapExtra<'s, '_, Input<'s>, Extra<'s, R>>| {
        (!lexeme.alone || matches!(lexeme.sign, Sign::OpenParen | Sign::Negative | Sign::Positive))
            .then_some(())
    });
    let composed = larger.labelled(Due::Value).rewind().ignore_then(composed(place));
    single.labelled(Due::Value).or(composed).boxed()
}

/// A value with operators.
fn composed<'s, R: Record<'s>>(place: Place) -> Rule<'s, Value, R> {
    let nested = recursive(|nested| expression(place, nested));
    let expression = expression(place, nested).boxed();
    let range = mark(Due::Operator, Sign::DotDot).ignore_then(expression.clone()).map(Second::High);
    let tolerance = mark(Due::Operator, Sign::PlusMinus).ignore_then(expression.clone()).map(Second::Spread);
    expression.then(range.or(tolerance).or_not()).map(|(first, second)| pair(first, second)).boxed()
}

/// What follows the first expression of a value.
enum Second {
    High(Value),
    Spread(Value),
}

fn pair(first: Value, second: Option<Second>) -> Value {
    match second {
        None => first,
        Some(Second::High(high)) => {
            let span = first.span.to(high.span);
            Value { shape: Shape::Range(Box::new(first), Box::new(high)), span }
        }
        Some(Second::Spread(spread)) => {
            let span = first.span.to(spread.span);
            Value { shape: Shape::Tolerance(Box::new(first), Box::new(spread)), span }
        }
    }
}

/// Sums of products of factors; `nested` is what parentheses hold.
fn expression<'s, R: Record<'s>>(
    place: Place,
    nested: impl Parser<'s, Input<'s>, Value, Extra<'s, R>> + Clone + 's,
) -> impl Parser<'s, Input<'s>, Value, Extra<'s, R>> + Clone {
    let factor = factor(place, nested);
    let times = operator(Sign::Times, Operator::Multiply).or(operator(Sign::Slash, Operator::Divide));
    let product = factor.clone().foldl(times.then(factor).repeated(), join).boxed();
    let plus = operator(Sign::Plus, Operator::Add).or(operator(Sign::Minus, Operator::Subtract));
    product.clone().foldl(plus.then(product).repeated(), join)
}

fn operator<'s, R: Record<'s>>(
    sign: Sign,
    operator: Operator,
) -> impl Parser<'s, Input<'s>, Operator, Extra<'s, R>> + Clone {
    mark(Due::Operator, sign).to(operator)
}

fn join(left: Value, (operator, right): (Operator, Value)) -> Value {
    let span = left.span.to(right.span);
    Value { shape: Shape::Sum(operator, Box::new(left), Box::new(right)), span }
}

fn factor<'s, R: Record<'s>>(
    place: Place,
    nested: impl Parser<'s, Input<'s>, Value, Extra<'s, R>> + Clone + 's,
) -> Rule<'s, Value, R> {
    let open = mark(Due::Value, Sign::OpenParen);
    let group = nested.delimited_by(open, mark(Due::CloseParen, Sign::CloseParen));
    let operand = choice((plain(), pair_of_words(), word_or_path(place), group)).boxed();
    let sign = one(Due::Value, |sign| matches!(sign, Sign::Negative | Sign::Positive));
    let signed = sign.then(operand.clone()).map_with(|(sign, inner), e| {
        let span: Span = sign.span(e.state().file).to(inner.span);
        let shape = if sign.sign == Sign::Negative { Shape::Negative(Box::new(inner)) } else { inner.shape };
        Value { shape, span }
    });
    operand.or(signed).boxed()
}

/// Whether a lexeme that is no word is a value.
const fn is_plain(sign: Sign) -> bool {
    matches!(sign, Sign::Quantity | Sign::Number | Sign::Text | Sign::Date | Sign::Spoiled)
}

/// A value of one lexeme that is no word.
fn plain<'s, R: Record<'s>>() -> impl Parser<'s, Input<'s>, Value, Extra<'s, R>> + Clone {
    one(Due::Value, is_plain).map_with(|lexeme, e| e.state().plain_value(lexeme))
}

/// `red/white`: a colour and its stripe, or the quotient of two constants.
fn pair_of_words<'s, R: Record<'s>>() -> impl Parser<'s, Input<'s>, Value, Extra<'s, R>> + Clone {
    mark(Due::Value, Sign::Word(Word::Pair)).map_with(|lexeme, e| e.state().plain_value(lexeme))
}

/// A word, or a path where dots follow it.
fn word_or_path<'s, R: Record<'s>>(place: Place) -> impl Parser<'s, Input<'s>, Value, Extra<'s, R>> + Clone {
    let first = one(Due::Value, move |sign: Sign| sign.is_name() && place.admits(sign));
    let next = one(Due::Name, Sign::is_name);
    let more = mark(Due::Operator, Sign::Dot).ignore_then(next).ignored().repeated();
    first.ignore_then(more).to_slice().map_with(|lexemes: Input<'s>, e| match lexemes {
        [word] => e.state().plain_value(word),
        _ => {
            let path = e.state().path(lexemes);
            Value { span: path.span, shape: Shape::Path(path) }
        }
    })
}
