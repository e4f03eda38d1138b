//! Joints: ties between terminals, and mated connector halves way by way.

use std::collections::BTreeMap;

use wattle_grammar::{
    error::TextError,
    kind::{KindId, key, setting},
    span::Span,
    syntax,
};

use super::{
    Mate, Origin, TerminalId, ThingId, Tie,
    lower::Lowering,
    rows::{Noun, Rows},
    scope::ScopeId,
    sheet::Sheet,
};

const MATE: Rows = Rows { noun: Noun("mate"), own: setting::MATE, common: &[] };
const TIE: Rows = Rows { noun: Noun("tie"), own: setting::TIE, common: &[] };

impl<'a> Lowering<'a> {
    /// Makes the ties. An end that leads nowhere is left out; a tie with fewer than two ends joins nothing.
    pub(super) fn ties(&mut self, sheet: &Sheet<'a>) {
        for (scope, statement) in &sheet.ties {
            let gathered = self.gather(*scope, TIE, &[], &statement.settings);
            let ends: Vec<(TerminalId, Span)> = statement
                .ends
                .iter()
                .filter_map(|path| self.end(*scope, path).map(|terminal| (terminal, path.span)))
                .collect();
            if ends.len() >= 2 {
                self.design.ties.push(Tie {
                    ends,
                    span: statement.span,
                    facts: gathered.rated(Origin::Thing),
                });
            }
        }
    }

    /// Makes the mates.
    pub(super) fn mates(&mut self, sheet: &Sheet<'a>) {
        let mut mated = BTreeMap::new();
        for (scope, statement) in &sheet.mates {
            if let Some(mate) = self.mate(*scope, statement, &mut mated) {
                self.design.mates.push(mate);
            }
        }
    }

    fn mate(
        &mut self,
        scope: ScopeId,
        statement: &syntax::Mate,
        mated: &mut BTreeMap<(ThingId, ThingId), Span>,
    ) -> Option<Mate> {
        let gathered = self.gather(scope, MATE, &statement.values, &statement.settings);
        let first = self.half(scope, &statement.first);
        let second = self.half(scope, &statement.second);
        let (first, second) = (first?, second?);
        if first == second {
            let message = format!("`{}` is mated with itself", super::places::dotted(&statement.second));
            self.tell(TextError::new(
                "language.mated-twice",
                statement.second.span,
                message,
                "the other half is due here",
            ));
            return None;
        }
        if let Some(before) = mated.insert((first.min(second), first.max(second)), statement.span) {
            let [one, other] = [&statement.first, &statement.second].map(super::places::dotted);
            let message = format!("`{one}` is mated with `{other}` twice");
            let error = TextError::new("language.mated-twice", statement.span, message, "mated again here");
            self.tell(error.related(before, "first mated here"));
            return None;
        }
        let mirrored = gathered.flag(key::MIRRORED);
        let ways = self.ways(first, second, mirrored, statement)?;
        Some(Mate {
            first: (first, statement.first.span),
            second: (second, statement.second.span),
            span: statement.span,
            ways,
            crossover: mirrored || gathered.flag(key::CROSSOVER),
            facts: gathered.rated(Origin::Thing),
        })
    }

    fn half(&mut self, scope: ScopeId, path: &syntax::Path) -> Option<ThingId> {
        let id = self.thing_at(scope, path)?;
        let thing = self.design.things.get(id.index())?;
        if matches!(thing.id(), KindId::Plug | KindId::Socket) {
            return Some(id);
        }
        let message = format!("`{}` is {}, not a plug or socket", thing.name, Noun(thing.kind.word));
        let label = "a plug or socket is due here";
        self.tell(TextError::new("language.not-a-connector", path.span, message, label));
        None
    }

    fn ways(
        &mut self,
        first: ThingId,
        second: ThingId,
        mirrored: bool,
        statement: &syntax::Mate,
    ) -> Option<Vec<(TerminalId, TerminalId)>> {
        let (one, other) = (self.design.things.get(first.index())?, self.design.things.get(second.index())?);
        let (count, others) = (one.terminal_count, other.terminal_count);
        if count != others {
            let uncertain =
                [first, second].iter().any(|id| self.uncertain.get(id.index()).copied().unwrap_or(true));
            if !uncertain {
                let message = format!(
                    "`{}` has {count} ways and `{}` has {others}: they do not mate",
                    one.name, other.name
                );
                let (one, other) = (one.span, other.span);
                let error = TextError::new(
                    "language.ways-differ",
                    statement.span,
                    message,
                    "different numbers of ways",
                );
                self.tell(
                    error.related(one, format!("{count} ways")).related(other, format!("{others} ways")),
                );
            }
            return None;
        }
        let partner = |way: u32| if mirrored { count - 1 - way } else { way };
        let (first, second) = (one.first_terminal, other.first_terminal);
        Some((0..count).map(|way| (TerminalId(first + way), TerminalId(second + partner(way)))).collect())
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{design, errors};

    #[test]
    fn mates_join_way_to_way() {
        let design = design(
            "plug P 3 way\nsocket S 3 way\nplug Q 3 way\nsocket T 3 way\nmate P with S\nmate Q with T mirrored\n",
        );
        let pairs = |at: usize| design.mates[at].ways.iter().map(|(a, b)| (a.0, b.0)).collect::<Vec<_>>();
        assert_eq!(pairs(0), [(0, 3), (1, 4), (2, 5)]);
        assert_eq!(pairs(1), [(6, 11), (7, 10), (8, 9)]);
        assert!(!design.mates[0].crossover && design.mates[1].crossover);
    }

    #[test]
    fn halves_mate_once_and_with_their_like() {
        assert_eq!(
            errors(
                "plug P 3 way\nsocket S 4 way\nsocket T 3 way\nstud A\nmate P with S\nmate T with T\n\
                 mate T with P\nmate P with T\nmate T with A\n"
            ),
            [
                "ways-differ: `P` has 3 ways and `S` has 4: they do not mate",
                "mated-twice: `T` is mated with itself",
                "mated-twice: `P` is mated with `T` twice",
                "not-a-connector: `A` is a stud, not a plug or socket",
            ]
        );
    }

    #[test]
    fn ties_join_terminals() {
        let design = design("stud A\nstud B\nblock C 2 way\ntie A to B, C.2\n");
        assert_eq!(design.ties[0].ends.iter().map(|(end, _)| end.0).collect::<Vec<_>>(), [0, 1, 4]);
        assert_eq!(errors("stud A\ntie A to D\n").len(), 1);
    }
}
