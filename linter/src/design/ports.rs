//! Signal terminals and what they are: `port s1, s2 output push-pull 3.3 V "steering"`.

use wattle_grammar::{
    error::TextError,
    kind::Rating,
    quantity::Dimension,
    syntax::{Setting, Shape, Value},
};

use super::{
    Origin, Port, Rated, RatedValue, Standing,
    fit::Fitted,
    gather::Gathered,
    lower::Lowering,
    rows::{Noun, Rows},
    scope::ScopeId,
};

impl Lowering<'_> {
    /// A line with the key `port`: the terminals first, then what they are by `rows`.
    pub(super) fn port(
        &mut self,
        scope: ScopeId,
        rating: &'static Rating,
        rows: &'static [Rating],
        setting: &Setting,
    ) -> Option<Fitted> {
        let rows = Rows { noun: Noun("port"), own: rows, common: &[] };
        let named = setting.values.iter().take_while(|value| is_terminal(value, rows)).count();
        let (names, facts) = setting.values.split_at_checked(named).unwrap_or_default();
        if names.is_empty() {
            let message = format!("`{}` names no terminal", rating.key);
            let label = "a terminal is due behind it, as in `port s1 output`";
            self.tell(TextError::new("language.missing-value", setting.span, message, label));
            return None;
        }
        let gathered = self.gather(scope, rows, facts, &[]);
        let terminals = names.iter().map(|value| (self.text(value.span).to_owned(), value.span)).collect();
        let port = Port { terminals, rated: rated(gathered), span: setting.span };
        Some(vec![(rating.key, RatedValue::Ports(vec![port]))])
    }
}

fn rated(gathered: Gathered) -> Vec<Rated> {
    let rated = |written: super::gather::Written| Rated {
        key: written.key,
        value: written.value,
        origin: Origin::Thing(written.span),
        standing: Standing::default(),
    };
    gathered.written.into_iter().map(rated).collect()
}

/// A word that is none of the rows' words, or a bare number.
fn is_terminal(value: &Value, rows: Rows) -> bool {
    match &value.shape {
        Shape::Word(word) => rows.by_word(word).is_none(),
        Shape::Quantity(number) => number.dimension == Dimension::Number,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::super::{
        RatedValue,
        testing::{design, errors},
    };
    use wattle_grammar::kind::key;

    #[test]
    fn ports_are_terminals_with_facts() {
        let design = design(
            "controller C 5 V {\n port s1, s2 output push-pull 3.3 V \"steering\"\n port s3 input pull-up 10 kohm\n}\n",
        );
        let Some(RatedValue::Ports(ports)) = design.things[0].rated(key::PORT).map(|rated| &rated.value)
        else {
            panic!("ports")
        };
        let names = |at: usize| ports[at].terminals.iter().map(|(name, _)| name.as_str()).collect::<Vec<_>>();
        assert_eq!((names(0), names(1)), (vec!["s1", "s2"], vec!["s3"]));
        assert_eq!(ports[0].rated.len(), 4);
        assert_eq!(ports[1].rated.last().map(|rated| rated.key), Some(key::RESISTANCE));
    }

    #[test]
    fn a_port_says_how_its_line_behaves() {
        let design = design("sensor S 5 V { port signal both open-drain 400 kHz isolated from-reset }\n");
        let Some(RatedValue::Ports(ports)) = design.things[0].rated(key::PORT).map(|rated| &rated.value)
        else {
            panic!("ports")
        };
        let said: Vec<_> = ports[0].rated.iter().map(|rated| (rated.key, &rated.value)).collect();
        assert!(said.contains(&(key::ISOLATED, &RatedValue::Flag(true))), "{said:?}");
        assert!(said.contains(&(key::FROM_RESET, &RatedValue::Flag(true))), "{said:?}");
        let speed = ports[0].rated.iter().find(|rated| rated.key == key::BUS_SPEED).map(|rated| &rated.value);
        assert!(matches!(speed, Some(RatedValue::Quantity(found)) if found.value == 4e5), "{speed:?}");
    }

    #[test]
    fn a_port_of_no_terminal_is_told() {
        assert_eq!(
            errors("controller C 5 V { port sx output }\ncontroller D 5 V { port output }\n"),
            ["unknown-terminal: `C` has no terminal `sx`", "missing-value: `port` names no terminal",]
        );
    }
}
