//! A formula as it is worked out on paper: in symbols, with the numbers put in, and the result.

use wattle_grammar::quantity::Dimension;

use super::super::prose;
use crate::explained::{Amount, Explained, Input};

/// The lines that show how a figure comes about; none for one that is no more than an input. Of one that could not be told
/// the formula alone stands, where there is something that goes into it.
pub(super) fn lines(figure: &Explained) -> Vec<String> {
    let formula = figure.formula.as_str();
    if formula.is_empty() {
        return Vec::new();
    }
    if matches!(figure.amount, Amount::NotAssessed(_)) {
        return figure.inputs.first().map(|_| formula.to_owned()).into_iter().collect();
    }
    if figure.inputs.iter().any(|input| is_all(figure, input)) {
        return Vec::new();
    }
    let result = prose::amount(&figure.amount);
    match with_numbers(right(formula), &figure.inputs) {
        Some(numbers) => vec![format!("{formula} = {numbers} = {result}")],
        None => vec![formula.to_owned()],
    }
}

/// Whether a figure is nothing but one of its inputs: the number then stands once.
pub(super) fn is_all(figure: &Explained, input: &Input) -> bool {
    input.symbol == right(&figure.formula) && prose::amount(&input.amount) == prose::amount(&figure.amount)
}

/// What a formula puts its symbol equal to.
fn right(formula: &str) -> &str {
    formula.split_once(" = ").map_or(formula, |(_, right)| right)
}

/// Words of a formula that stand for no amount.
const FUNCTIONS: &[&str] = &["ln", "log₁₀", "π"];

/// The formula with every symbol replaced by its amount; nothing when it has words or symbols that are no inputs.
fn with_numbers(formula: &str, inputs: &[Input]) -> Option<String> {
    let mut out = String::new();
    let mut rest = formula;
    while let Some(first) = rest.chars().next() {
        let end = if first.is_alphabetic() { symbol_end(rest) } else { first.len_utf8() };
        let (piece, behind) = rest.split_at(end);
        if FUNCTIONS.contains(&piece) {
            out.push_str(piece);
        } else if first.is_alphabetic() {
            let input = inputs.iter().find(|input| input.symbol == piece)?;
            out.push_str(&number(&input.amount, behind)?);
        } else {
            out.push_str(piece);
        }
        rest = behind;
    }
    Some(out)
}

/// Where a symbol that a text begins with ends.
fn symbol_end(text: &str) -> usize {
    let belongs = |letter: char| {
        letter.is_alphabetic() || letter.is_ascii_digit() || matches!(letter, '_' | '\'' | '₀'..='₉')
    };
    text.find(|letter| !belongs(letter)).unwrap_or(text.len())
}

/// An amount within a formula: a share as a plain number, in brackets where a power or a sign asks for them.
fn number(amount: &Amount, behind: &str) -> Option<String> {
    let text = match amount {
        Amount::Value(value, Dimension::Ratio) => prose::value_text(*value, Dimension::Number),
        Amount::Value(value, dimension) => prose::value_text(*value, *dimension),
        Amount::Pulse(joules) => joules.to_string(),
        // A number with a unit that the language does not have.
        Amount::Words(words) if words.starts_with(|first: char| first.is_ascii_digit()) => words.clone(),
        Amount::Words(_) | Amount::NotAssessed(_) => return None,
    };
    let raised = behind.starts_with(['²', '³', '^']);
    let bracketed = raised || text.starts_with('-');
    Some(if bracketed { format!("({text})") } else { text })
}

#[cfg(test)]
mod tests {
    use wattle_grammar::quantity::{Amps, Farads, Ohms, Seconds, Share, Volts, Watts};

    use super::*;

    #[test]
    fn a_formula_is_worked_out_as_on_paper() {
        let figure = Explained::new("steady current", Amount::of(Amps(12.4 * 0.7_f64.sqrt())))
            .by("I_RMS = I · √duty", "")
            .from([Input::of("I", "", Amps(12.4)), Input::of("duty", "", Share(0.7))]);
        assert_eq!(lines(&figure), ["I_RMS = I · √duty = 12.4 A · √0.7 = 10.4 A"]);
    }

    #[test]
    fn powers_and_signs_stand_in_brackets() {
        let figure = Explained::new("loss", Amount::of(Watts(0.4)))
            .by("P = R · I_RMS²", "")
            .from([Input::of("R", "", Ohms(0.1)), Input::of("I_RMS", "", Amps(-2.0))]);
        assert_eq!(lines(&figure), ["P = R · I_RMS² = 100 mΩ · (-2 A)² = 400 mW"]);
    }

    #[test]
    fn symbols_may_be_numbered_and_functions_stay() {
        let figure = Explained::new("hold-up", Amount::of(Seconds(0.1_f64 * 2.0_f64.ln())))
            .by("t = R · C · ln(U₁ / U₂)", "")
            .from([
                Input::of("R", "", Ohms(100.0)),
                Input::of("C", "", Farads(1e-3)),
                Input::of("U₁", "", Volts(24.0)),
                Input::of("U₂", "", Volts(12.0)),
            ]);
        assert_eq!(lines(&figure), ["t = R · C · ln(U₁ / U₂) = 100 Ω · 1 mF · ln(24 V / 12 V) = 69.3 ms"]);
    }

    #[test]
    fn a_formula_in_words_stays_as_it_is() {
        let figure = Explained::new("t", Amount::of(Amps(1.0))).by("table 5, 60 °C column: 10 A", "");
        assert_eq!(lines(&figure), ["table 5, 60 °C column: 10 A"]);
        let direct =
            Explained::new("u", Amount::of(Amps(1.0))).by("I", "").from([Input::of("I", "", Amps(1.0))]);
        assert!(lines(&direct).is_empty());
        let limited = Explained::new("u", Amount::of(Amps(1.0))).by("I = I_lim", "").from([Input::of(
            "I_lim",
            "",
            Amps(1.0),
        )]);
        assert!(lines(&limited).is_empty());
        assert!(is_all(&limited, &limited.inputs[0]));
        let missing = Explained::new("u", Amount::NotAssessed("size".to_owned())).by("I", "");
        assert!(lines(&missing).is_empty());
        let missing = missing.from([Input::of("U", "", Volts(1.0))]);
        assert_eq!(lines(&missing), ["I"]);
    }
}
