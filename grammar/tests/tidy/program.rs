//! Programs without mistakes, written by people who do not care for layout: odd blanks and line ends, comments everywhere,
//! any spelling of units, letters of all scripts in texts and comments.

use proptest::{collection::vec, prelude::*, sample::select, strategy::Union};

type Text = BoxedStrategy<String>;

fn one_of(texts: &'static [&'static str]) -> Text {
    select(texts).prop_map(str::to_owned).boxed()
}

/// Strings of the strategies, put together.
fn all(parts: Vec<Text>) -> Text {
    parts.prop_map(|parts| parts.concat()).boxed()
}

fn any_of(choices: Vec<Text>) -> Text {
    Union::new(choices).boxed()
}

fn maybe(part: Text) -> Text {
    any_of(vec![Just(String::new()).boxed(), part])
}

fn word(text: &'static str) -> Text {
    Just(text.to_owned()).boxed()
}

/// A blank that must be there.
fn gap() -> Text {
    one_of(&[" ", " ", " ", "  ", "\t", "     ", "\u{a0}", " \u{202f}\t"])
}

/// A blank that may be there.
fn space() -> Text {
    one_of(&["", " ", "", "  ", "\t"])
}

/// What may stand behind a comma: blanks, line ends, comments.
fn behind_comma() -> Text {
    one_of(&[" ", "", "  ", " ", "\n      ", "\n\n        ", "  # and\n      ", "\n      # ö\n      "])
}

fn comma() -> Text {
    all(vec![space(), word(","), behind_comma()])
}

fn name() -> Text {
    let long = "[B-Z][A-Z0-9]{1,9}(-[A-Z0-9]{1,9}){2,3}";
    any_of(vec!["[B-Z][A-Z0-9_]{0,5}(-[A-Z0-9]{1,3})?".boxed(), long.boxed(), one_of(&["W1", "a", "s"])])
}

fn path() -> Text {
    let inner = one_of(&["pos", "1", "87a", "in-neg", "t0", "to", "at", "B7.x"]);
    any_of(vec![all(vec![name(), word("."), inner]), name()])
}

fn list(item: fn() -> Text) -> Text {
    let more = vec(all(vec![comma(), item()]), 0..3).prop_map(|parts| parts.concat()).boxed();
    all(vec![item(), more])
}

fn label() -> Text {
    let odd =
        one_of(&["\"\"", "\"a # b\"", "\"{ ; }\"", "\"\\\"quoted\\\" \\\\\"", "\"  \"", "\"日本 ü µ 🦾\""]);
    any_of(vec!["\"[a-z äß]{1,40}\"".boxed(), odd])
}

fn number() -> Text {
    let odd = one_of(&["0.50", "1_000", "1e3", "12.0", "350", "7"]);
    any_of(vec![odd, (1..900_u32).prop_map(|number| number.to_string()).boxed()])
}

fn unit() -> Text {
    one_of(&[
        "V", "mV", "uV", "A", "mA", "µA", "mohm", "Ω", "kOhm", "mAh", "W", "C", "mm2", "mm^2", "mm²", "mm",
        "m", "degC", "°C", "uF", "μF", "%", "way", "ways", "pole", "S", "P", "rpm/V", "mohm/m", "A2s", "min",
        "K", "Ncm",
    ])
}

/// A number with its unit.
fn plain() -> Text {
    all(vec![number(), space(), unit()])
}

fn quantity() -> Text {
    let odd = one_of(&["AWG 12", "2/0 AWG", "12AWG", "-5 degC", "0.50V", "3/8 in"]);
    any_of(vec![plain(), plain(), odd])
}

/// A quantity, a range, a tolerance or a sum, or the two figures of a pack.
fn figure() -> Text {
    any_of(vec![single(), single(), single(), one_of(&["6S2P", "6S 2P", "6 S  2 P"])])
}

fn single() -> Text {
    let dots = all(vec![space(), word(".."), space()]);
    let spread = all(vec![space(), one_of(&["±", "+/-", "+-"]), space()]);
    let sign = one_of(&[" + ", " - ", "  -  ", "*", " × ", " / "]);
    let group = all(vec![word("("), space(), plain(), sign, quantity(), space(), word(")")]);
    let broken = one_of(&["(1 V\n    + 2 V)", "2 * (3 A - -1 A)", "-(2 V)", "(1 m\n  # half\n  / 2)"]);
    any_of(vec![
        quantity(),
        quantity(),
        all(vec![quantity(), dots, quantity()]),
        all(vec![number(), one_of(&["..", " .. "]), quantity()]),
        all(vec![quantity(), spread, quantity()]),
        group,
        broken,
    ])
}

fn rating_word() -> Text {
    one_of(&["blade", "lipo", "bolt-down", "REACH", "mini-blade", "sheathed", "x-y"])
}

fn colour() -> Text {
    one_of(&["red", "black", "red/white", "green-yellow", "blue", "grey"])
}

fn wire_value() -> Text {
    let length = all(vec![number(), space(), one_of(&["mm", "m", "cm"])]);
    let size = all(vec![one_of(&["8", "22", "10"]), space(), word("AWG")]);
    let area = all(vec![number(), space(), one_of(&["mm2", "mm^2", "mm²"])]);
    let odd = one_of(&["AWG 12", "2/0 AWG", "105 degC", "sheathed", "REACH", "copper", "(1 m + 20 cm)"]);
    any_of(vec![size.clone(), size, area, colour(), colour(), length.clone(), length, odd, denial()])
}

/// Values on a line, with a blank before the first and a blank or comma before the others.
fn values(value: fn() -> Text, most: usize) -> Text {
    let before = any_of(vec![gap(), gap(), gap(), all(vec![word(","), gap()])]);
    let more = vec(all(vec![before, value()]), 0..most).prop_map(|parts| parts.concat()).boxed();
    maybe(all(vec![gap(), value(), more]))
}

/// A fact denied on the line.
fn denial() -> Text {
    let key = one_of(&["sheathed", "back-drivable", "taps"]);
    all(vec![one_of(&["not", "no"]), gap(), key])
}

fn thing_value() -> Text {
    any_of(vec![figure(), figure(), rating_word(), denial()])
}

fn at_place() -> Text {
    maybe(all(vec![gap(), word("at"), gap(), name()]))
}

fn setting() -> Text {
    let key =
        one_of(&["coil", "supply", "breaking-capacity", "note", "typical", "spare", "sheathed", "channels"]);
    let value = any_of(vec![figure(), figure(), rating_word(), label(), path()]);
    let count = all(vec![key.clone(), gap(), number()]);
    let some = vec(all(vec![gap(), value]), 0..3).prop_map(|parts| parts.concat()).boxed();
    let negated = all(vec![one_of(&["not", "no"]), gap(), key.clone()]);
    let remark =
        one_of(&["advertised", "peak 10 s", "measured 2026-05-01", "continuous  measured\t2026-05-01"]);
    let remarked = all(vec![key.clone(), gap(), figure(), gap(), remark]);
    let port = all(vec![
        word("port"),
        gap(),
        list(name),
        one_of(&[" output", " input pull-up 10 kohm", "  both open-drain 3.3V \"bus\""]),
    ]);
    let own = all(vec![word("x-shop"), gap(), any_of(vec![label(), quantity(), list(name)])]);
    let names = all(vec![key.clone(), gap(), list(name)]);
    any_of(vec![all(vec![key, some]), count, negated, names, remarked, port, own])
}

/// What may end a line.
fn line_end() -> Text {
    one_of(&[
        "\n",
        "\n",
        "\n",
        "\n\n",
        "\n\n\n\n",
        "  # note\n",
        "# µ 日本 \t\n",
        "\n   # own line\n",
        ";\n",
        " \t\n",
        "\n#\n",
    ])
}

fn block(line: fn() -> Text) -> Text {
    let on_line = {
        let more = vec(all(vec![word(";"), space(), line()]), 0..4).prop_map(|parts| parts.concat()).boxed();
        let end = one_of(&["", " ", ";", " ; ; "]);
        all(vec![word("{"), space(), line(), more, end, word("}")])
    };
    let below = {
        let first = one_of(&["", "\n", "  # first\n", "\n\n"]);
        let line = all(vec![space(), line(), line_end()]);
        let lines = vec(line, 0..5).prop_map(|parts| parts.concat()).boxed();
        all(vec![word("{"), first, lines, space(), word("}")])
    };
    any_of(vec![on_line.clone(), on_line, below, one_of(&["{}", "{ }", "{\n}", "{ # nothing\n }"])])
}

fn settings() -> Text {
    maybe(all(vec![space(), block(setting)]))
}

fn thing() -> Text {
    let kind = one_of(&["fuse", "battery", "motor", "driver", "slip-ring", "plug"]);
    let part = maybe(all(vec![space(), word(":"), space(), name()]));
    let label = maybe(all(vec![gap(), label()]));
    let on = maybe(all(vec![gap(), word("on"), gap(), path()]));
    let tail = any_of(vec![
        all(vec![label.clone(), part.clone(), values(thing_value, 3), on.clone(), at_place()]),
        all(vec![on, at_place(), values(thing_value, 2), part, label]),
    ]);
    all(vec![kind, gap(), list(name), tail, settings()])
}

fn conductor(name: Text) -> Text {
    all(vec![
        name,
        gap(),
        path(),
        gap(),
        word("to"),
        gap(),
        path(),
        values(wire_value, 4),
        at_place(),
        settings(),
    ])
}

fn wire() -> Text {
    all(vec![word("wire"), gap(), conductor(name())])
}

fn core() -> Text {
    let number = (1..30_u32).prop_map(|number| number.to_string()).boxed();
    let spare = |name: Text| all(vec![name, gap(), word("spare"), values(wire_value, 3), settings()]);
    let bundle = all(vec![word("bundle"), gap(), word("6")]);
    any_of(vec![conductor(name()), conductor(number.clone()), spare(name()), spare(number), bundle])
}

fn harness() -> Text {
    let head = all(vec![one_of(&["harness", "cable"]), gap(), name(), maybe(all(vec![gap(), label()]))]);
    all(vec![head, values(wire_value, 2), at_place(), space(), block(core)])
}

fn state() -> Text {
    let value = any_of(vec![one_of(&["closed", "open", "typical", "turned"]), quantity()]);
    all(vec![list(path), gap(), value])
}

fn mode() -> Text {
    all(vec![word("mode"), gap(), name(), maybe(all(vec![gap(), label()])), space(), block(state)])
}

fn joint() -> Text {
    let tie = all(vec![word("tie"), gap(), path(), gap(), word("to"), gap(), list(path), settings()]);
    let mate = all(vec![word("mate"), gap(), name(), gap(), word("with"), gap(), name(), settings()]);
    any_of(vec![tie, mate])
}

fn definition() -> Text {
    let value = all(vec![word("let"), gap(), name(), space(), word("="), space(), single()]);
    let part = {
        let head = all(vec![word("part"), gap(), name(), gap(), word("is"), gap(), word("fuse")]);
        all(vec![head, maybe(all(vec![gap(), label()])), values(thing_value, 3), settings()])
    };
    let place = all(vec![
        one_of(&["place", "group"]),
        gap(),
        list(name),
        maybe(all(vec![gap(), label()])),
        settings(),
    ]);
    let fit =
        all(vec![word("fit"), gap(), name(), gap(), word("as"), gap(), list(name), at_place(), settings()]);
    let file = all(vec![word("use"), gap(), label()]);
    let robot = all(vec![word("robot"), gap(), label(), settings()]);
    any_of(vec![value, part, place, fit, file, robot])
}

fn bench() -> Text {
    let modes = maybe(all(vec![gap(), word("in"), gap(), list(name)]));
    let fault = maybe(all(vec![gap(), word("under"), gap(), word("any-fault")]));
    let limit = all(vec![space(), one_of(&[">=", "<=", "=", "≥", "≤"]), space(), plain()]);
    let what = one_of(&["voltage", "current", "temperature"]);
    let measured = all(vec![what, gap(), list(path), limit.clone(), modes.clone(), fault.clone()]);
    let when = all(vec![gap(), word("when"), gap(), path(), gap(), word("open")]);
    let dead = all(vec![word("dead"), gap(), list(path), when, modes.clone(), fault.clone()]);
    let runtime = all(vec![word("runtime"), limit, modes, fault]);
    let expect = all(vec![word("expect"), gap(), any_of(vec![measured, dead, runtime])]);
    let place = any_of(vec![
        all(vec![one_of(&["through", "at"]), gap(), path()]),
        all(vec![word("across"), gap(), path(), comma(), path()]),
    ]);
    let conditions = one_of(&["", " in DRIVE", " in DRIVE  on 2027-03-01", "\ton 2027-03-01"]);
    let reading = all(vec![word("reading"), gap(), plain(), gap(), place, conditions]);
    let rule = one_of(&["wire.undersized", "label.missing-end"]);
    let until = one_of(&["", " until 2027-12-31", "   until\t2028-01-01"]);
    let because = all(vec![gap(), word("because"), gap(), label()]);
    let accept = all(vec![word("accept"), gap(), rule, gap(), word("on"), gap(), path(), because, until]);
    any_of(vec![expect, reading, accept])
}

fn flat() -> Text {
    any_of(vec![thing(), thing(), wire(), wire(), wire(), joint(), definition(), bench(), mode(), harness()])
}

fn outward() -> Text {
    let terminal = all(vec![word("terminal"), gap(), name(), one_of(&[" ", " = ", "="]), path()]);
    let parameter = all(vec![word("parameter"), gap(), name(), gap(), quantity()]);
    any_of(vec![terminal, parameter, flat(), flat()])
}

fn assembly() -> Text {
    all(vec![word("assembly"), gap(), name(), space(), block(outward)])
}

fn statement() -> Text {
    any_of(vec![flat(), flat(), flat(), flat(), flat(), assembly()])
}

/// Statements that people write one below the other: a few of the same sort.
fn run() -> Text {
    let lines = |line: fn() -> Text| {
        let line = all(vec![line(), one_of(&["\n", "\n", "\n", "  # so\n", " ;"])]);
        vec(line, 1..5).prop_map(|lines| lines.concat()).boxed()
    };
    any_of(vec![lines(wire), lines(thing), lines(bench), lines(statement)])
}

/// A whole file.
pub(crate) fn file() -> impl Strategy<Value = String> {
    let mark = one_of(&["", "", "\u{feff}"]);
    let before = one_of(&["", "\n\n", "# first\n", "  \n"]);
    let run = all(vec![run(), one_of(&["", "\n", "\n\n\n", "# section\n"])]);
    let runs = vec(run, 0..5).prop_map(|runs| runs.concat()).boxed();
    let text = all(vec![mark, before, word("wattle 1"), line_end(), runs]);
    (text, select(vec!["\n", "\n", "\r\n", "\r"])).prop_map(|(text, line_end)| text.replace('\n', line_end))
}
