//! What the rules on batteries that give or take too much share.

use crate::{
    energy::Overload,
    finding::{Finding, NotAssessed},
    inquiry::Inquiry,
};

/// Reports each battery with more current than its limit, and lists each of which the limit is not known.
pub(super) fn judge(
    inquiry: &mut Inquiry<'_>,
    rule: &'static str,
    overloads: &[Overload],
    finding: impl Fn(&Inquiry<'_>, &Overload) -> Option<Finding>,
) {
    for overload in overloads {
        match &overload.limit {
            Ok(_) => {
                let finding = finding(inquiry, overload);
                finding.into_iter().for_each(|finding| inquiry.report(finding));
            }
            Err(missing) => {
                let thing = inquiry.design.thing(overload.battery);
                inquiry.not_assessed(NotAssessed {
                    subject: thing.name.clone(),
                    span: thing.span,
                    missing: missing.what.clone(),
                    blocks: vec![rule],
                });
            }
        }
    }
}
