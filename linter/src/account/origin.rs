//! Where a rating came from, in words with its file and line.

use wattle_grammar::span::Span;

use super::View;
use crate::design::{Origin, Rated, ThingId, WireId, facts};

impl View<'_> {
    /// `robot.wattle:12`.
    #[must_use]
    pub fn line(&self, span: Span) -> String {
        let place = self.report.place(span);
        format!("{}:{}", crate::report::plain::line(place.path), place.line)
    }

    /// `as stated, robot.wattle:12`, or the default's authority; with what the rating is worth.
    #[must_use]
    pub fn origin(&self, rated: &Rated) -> String {
        let mut words = match &rated.origin {
            Origin::Thing(span) => format!("stated at {}", self.line(*span)),
            Origin::Part(span) => format!("stated on its part at {}", self.line(*span)),
            Origin::Harness(span) => format!("stated on its harness at {}", self.line(*span)),
            Origin::Robot(span) => format!("stated on the robot at {}", self.line(*span)),
            Origin::Default(authority) => format!("default: {authority}"),
        };
        if let Some(basis) = rated.standing.basis {
            words.push_str(&format!(", {}", basis.word()));
        }
        if let Some(date) = rated.standing.measured {
            words.push_str(&format!(", measured on {date}"));
        }
        words
    }

    /// Where a thing's rating came from; `not stated` without one.
    #[must_use]
    pub fn rating_origin(&self, thing: ThingId, key: &str) -> String {
        let rated = self.analysis.design.thing(thing).rated(key);
        rated.map_or_else(|| "not stated".to_owned(), |rated| self.origin(rated))
    }

    /// Where a wire's fact came from, when it has it from somewhere.
    #[must_use]
    pub fn fact_origin(&self, wire: WireId, key: &str) -> Option<String> {
        facts::find(&self.analysis.design.wire(wire).facts, key).map(|rated| self.origin(rated))
    }
}
