//! The two faces of an assembly: its parameters, which a fit sets, and its outward terminals.

use std::collections::BTreeMap;

use wattle_grammar::{
    error::{TextError, quoted},
    quantity::Dimension,
    span::Span,
    syntax::{Assembly, Fit, Name, Path, Setting, Shape, Value},
};

use super::{
    dimension::noun,
    gather::OWN_KEYS,
    lower::Lowering,
    names::{duplicate, with_nearest},
    scope::{Constant, ScopeId},
    value::{Given, as_path},
};
use crate::complaint::listed;

/// A parameter of an assembly.
struct Parameter<'a> {
    name: &'a str,
    setting: &'a Setting,
    default: Option<&'a Value>,
}

impl<'a> Lowering<'a> {
    /// The values of the parameters in a fit: its own, else the assembly's defaults.
    pub(super) fn parameters(
        &mut self,
        scope: ScopeId,
        assembly: &'a Assembly,
        fit: &'a Fit,
    ) -> BTreeMap<&'a str, Constant> {
        let parameters = self.declared_parameters(assembly);
        let mut values = self.fitted_values(scope, &parameters, fit);
        for parameter in &parameters {
            let default = parameter.default.and_then(|value| self.resolved(ScopeId::ROBOT, value));
            let dimension = default.as_ref().and_then(Given::dimension);
            match values.get(parameter.name) {
                Some(given) => {
                    let found = given.as_ref().and_then(Given::dimension);
                    if let Some(due) = dimension.filter(|due| given.is_some() && found != Some(*due)) {
                        self.tell_wrong_parameter(parameter, fit, due);
                        values.insert(parameter.name, default);
                    }
                }
                None if parameter.default.is_some() => {
                    values.insert(parameter.name, default);
                }
                None => {
                    let message =
                        format!("`{}` needs the parameter `{}`", assembly.name.text, parameter.name);
                    let label = "its value is missing";
                    let error =
                        TextError::new("language.missing-parameter", fit.assembly.span, message, label);
                    let error = error.related(parameter.setting.span, "the parameter, without a default");
                    self.tell(error.help(format!("give it in the block: `{{ {} … }}`", parameter.name)));
                    values.insert(parameter.name, None);
                }
            }
        }
        values
    }

    /// The parameters with their defaults; one without a default has no value.
    pub(super) fn default_parameters(&mut self, assembly: &'a Assembly) -> BTreeMap<&'a str, Constant> {
        let parameters = self.declared_parameters(assembly);
        let default = |parameter: &Parameter<'a>| {
            let value = parameter.default.and_then(|value| self.resolved(ScopeId::ROBOT, value));
            (parameter.name, value)
        };
        parameters.iter().map(default).collect()
    }

    fn declared_parameters(&mut self, assembly: &'a Assembly) -> Vec<Parameter<'a>> {
        let mut found: Vec<Parameter<'a>> = Vec::new();
        for setting in assembly.settings.iter().filter(|setting| &*setting.key.text == "parameter") {
            let (Some(Shape::Word(name)), true) =
                (setting.values.first().map(|value| &value.shape), setting.values.len() <= 2)
            else {
                let message = "a parameter is a name and perhaps a default";
                let label = "a name is due behind `parameter`";
                let error = TextError::new("language.bad-parameter", setting.span, message, label);
                self.tell(error.help("such a line reads `parameter reach 400 mm`"));
                continue;
            };
            match found.iter().find(|parameter| parameter.name == &**name) {
                Some(first) => self.errors.push(duplicate(name, name_of(setting), name_of(first.setting))),
                None => found.push(Parameter { name, setting, default: setting.values.get(1) }),
            }
        }
        found
    }

    fn fitted_values(
        &mut self,
        scope: ScopeId,
        parameters: &[Parameter<'a>],
        fit: &'a Fit,
    ) -> BTreeMap<&'a str, Constant> {
        let mut values: BTreeMap<&'a str, Constant> = BTreeMap::new();
        let said = fit.settings.iter().filter(|setting| !setting.key.text.starts_with(OWN_KEYS));
        for setting in said {
            let Some(parameter) = parameters.iter().find(|parameter| parameter.name == &*setting.key.text)
            else {
                self.tell_unknown_parameter(parameters, &setting.key, &fit.assembly);
                continue;
            };
            let value = match setting.values.as_slice() {
                [value] if !setting.negated => self.resolved(scope, value),
                _ => {
                    let message =
                        format!("`{}` takes one value, found {}", parameter.name, setting.values.len());
                    let label = "one value is due here";
                    self.tell(TextError::new("language.missing-value", setting.span, message, label));
                    None
                }
            };
            if values.insert(parameter.name, value).is_some() {
                let message = format!("`{}` is given twice", parameter.name);
                let error = TextError::new("language.given-twice", setting.span, message, "given again here");
                let first = fit.settings.iter().find(|first| first.key.text == setting.key.text);
                self.tell(match first {
                    Some(first) => error.related(first.span, "first given here"),
                    None => error,
                });
            }
        }
        values
    }

    fn tell_unknown_parameter(&mut self, parameters: &[Parameter<'_>], key: &Name, assembly: &Name) {
        let found = self.nearest.find(&key.text, parameters.iter().map(|parameter| parameter.name));
        let message = format!("`{}` has no parameter {}", assembly.text, quoted(&key.text));
        let error = TextError::new("language.unknown-key", key.span, message, "unknown parameter");
        let names: Vec<String> = parameters.iter().map(|parameter| format!("`{}`", parameter.name)).collect();
        self.tell(match (found, names.as_slice()) {
            (None, []) => error.help("it has no parameters"),
            (None, names) => error.help(format!("its parameters are {}", listed(names, "and"))),
            (found, _) => with_nearest(error, key.span, found),
        });
    }

    fn tell_wrong_parameter(&mut self, parameter: &Parameter<'_>, fit: &Fit, due: Dimension) {
        let setting = fit.settings.iter().find(|setting| &*setting.key.text == parameter.name);
        let span = setting.and_then(|setting| setting.values.first()).map_or(fit.span, |value| value.span);
        let found = self.text(span).to_owned();
        let due = noun(due);
        let message = format!("`{}` is {due}, found {}", parameter.name, quoted(&found));
        let label = format!("{due} is due here");
        let error = TextError::new("language.wrong-dimension", span, message, label);
        self.tell(error.related(parameter.setting.span, "the parameter and its default"));
    }

    /// Notes the outward terminals of a fitted assembly.
    pub(super) fn outward_terminals(&mut self, inner: ScopeId, assembly: &'a Assembly) {
        let mut outward: BTreeMap<&'a str, Path> = BTreeMap::new();
        for setting in &assembly.settings {
            match &*setting.key.text {
                "parameter" => {}
                "note" => self.assembly_note(setting),
                own if own.starts_with(OWN_KEYS) => {}
                "terminal" | "terminals" => {
                    self.outward_terminal(&assembly.settings, setting, &mut outward);
                }
                other => {
                    let found = self.nearest.find(other, ["terminal", "parameter"].into_iter());
                    let message = format!("an assembly has no setting `{other}`");
                    let error =
                        TextError::new("language.unknown-key", setting.key.span, message, "unknown key");
                    self.tell(with_nearest(error, setting.key.span, found));
                }
            }
        }
        if let Some(scope) = self.scopes.get_mut(inner.0) {
            scope.outward = outward;
        }
    }

    /// A remark for people: one text in quotes.
    fn assembly_note(&mut self, setting: &Setting) {
        let is_text = |value: &Value| matches!(value.shape, Shape::Text(_));
        if setting.negated || !matches!(setting.values.as_slice(), [only] if is_text(only)) {
            let message = "`note` takes a text in quotes";
            let label = "a text in quotes is due here";
            self.tell(TextError::new("language.wrong-value", setting.span, message, label));
        }
    }

    fn outward_terminal(
        &mut self,
        settings: &[Setting],
        setting: &'a Setting,
        outward: &mut BTreeMap<&'a str, Path>,
    ) {
        let pair = match setting.values.as_slice() {
            [name, path] => match &name.shape {
                Shape::Word(word) => as_path(path).map(|path| (&**word, path)),
                _ => None,
            },
            _ => None,
        };
        let Some((name, path)) = pair else {
            let message = "an outward terminal is a name and a terminal inside";
            let label = "a name and a terminal are due behind the key";
            let error = TextError::new("language.bad-terminal", setting.span, message, label);
            return self.tell(error.help("such a line reads `terminal power P1.1`"));
        };
        if outward.contains_key(name) {
            let same = |first: &&Setting| matches!(first.values.first().map(|value| &value.shape), Some(Shape::Word(word)) if &**word == name);
            let mut terminals = settings.iter().filter(|first| first.key.text.starts_with("terminal"));
            let first = terminals.find(same).map_or(setting.span, name_of);
            return self.tell(duplicate(name, name_of(setting), first));
        }
        outward.insert(name, path);
    }
}

/// The place of the name behind `parameter` or `terminal`.
fn name_of(setting: &Setting) -> Span {
    setting.values.first().map_or(setting.span, |name| name.span)
}
