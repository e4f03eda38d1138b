//! What mends an undersized wire: a thicker one, or a smaller device where what it feeds allows one.

use wattle_grammar::{
    kind::{KindId, key},
    quantity::Amps,
};

use super::{Overload, device::Device, inside};
use crate::{
    design::{Origin, Thing, WireId},
    finding::{Edit, Mend},
    inquiry::Inquiry,
    physics::{fuse, standard_fuse, standard_size},
    profile::Conductor,
    topology::{LinkId, Nature, Owner},
};

/// Thicker wire first; then a smaller device, where what it feeds allows one.
pub(super) fn help(
    inquiry: &Inquiry<'_>,
    id: WireId,
    overload: Option<&Overload>,
    device: Option<&Device>,
) -> Vec<Mend> {
    let mut help = Vec::new();
    help.extend(thicker(inquiry, id, overload, device));
    if let (None, Some(device)) = (overload, device) {
        help.extend(smaller(inquiry, device));
    }
    help
}

/// The next size up that bears the current where it is greatest and suits the device.
fn thicker(
    inquiry: &Inquiry<'_>,
    id: WireId,
    overload: Option<&Overload>,
    device: Option<&Device>,
) -> Option<Mend> {
    let wire = inquiry.design.wire(id);
    let size = wire.size.as_ref()?;
    let conductor = inquiry.conductors.worst(inquiry.design, id)?;
    let bears = |area| {
        let of = |surroundings: Conductor| Conductor { area, ..surroundings };
        let carries = overload.is_none_or(|overload| {
            let least = [of(conductor), of(overload.conductor)].map(|at| inquiry.profile.ampacity(&at));
            least.iter().all(|limit| limit.as_ref().is_some_and(|limit| limit.amps >= overload.amps))
        });
        let suits = device.is_none_or(|device| {
            let limit = inquiry.profile.device_limit(&of(conductor), device.volts);
            limit.is_some_and(|limit| limit.preferred >= device.rated)
        });
        carries && suits
    };
    let fits = standard_size::above(size.area, size.awg).into_iter().find(|larger| bears(larger.area))?;
    let edits = if inside(wire.statement, size.span) {
        vec![Edit { span: size.span, text: fits.name.to_owned() }]
    } else {
        Vec::new()
    };
    Some(Mend { title: format!("use {} or thicker", fits.name), edits, sure: false })
}

/// A smaller device, only where its present load is at most three quarters of the new rating (fuse makers' practice).
fn smaller(inquiry: &Inquiry<'_>, device: &Device) -> Option<Mend> {
    let link = device.link?;
    let Some(Owner::Thing(thing, _)) = inquiry.topology.link(link).map(|link| link.owner) else {
        return None;
    };
    let fuse = inquiry.design.thing(thing);
    let rating = largest(fuse, device.limit.preferred)?;
    let load = heaviest(inquiry, link);
    let alone = matches!(
        inquiry.topology.link(link)?.nature,
        Nature::Protective { rated: Some(rated) } if rated == device.rated
    );
    let is_fuse = matches!(fuse.id(), KindId::Fuse | KindId::Breaker);
    (alone && is_fuse && load.0 <= fuse::CONTINUOUS_LOAD.0 * rating.0).then(|| Mend {
        title: format!("fit {rating} in `{}` (it carries at most {load})", fuse.name),
        edits: rating_edit(inquiry, fuse, rating),
        sure: false,
    })
}

/// The largest rating of the fuse's own style that suits; of a breaker, or where no style is stated, of any.
fn largest(fuse: &Thing, limit: Amps) -> Option<Amps> {
    match fuse.word(key::STYLE).filter(|_| fuse.id() == KindId::Fuse) {
        Some(style) => standard_fuse::largest_of(standard_fuse::ratings(style), limit),
        None => standard_fuse::largest_up_to(limit),
    }
}

/// The greatest current of a device in any mode, blocked motors included.
fn heaviest(inquiry: &Inquiry<'_>, link: LinkId) -> Amps {
    let amps = inquiry.figures.points.iter().filter_map(|point| point.amps(link));
    amps.map(Amps::abs).fold(Amps(0.0), Amps::max)
}

/// The new rating in the fuse's own line. None where that line speaks of several fuses, or a part gives the rating.
fn rating_edit(inquiry: &Inquiry<'_>, fuse: &Thing, rating: Amps) -> Vec<Edit> {
    let of_line = inquiry.design.things.iter().filter(|other| other.statement == fuse.statement);
    match fuse.rated(key::CURRENT).map(|rated| &rated.origin) {
        Some(Origin::Thing(span)) if of_line.count() == 1 && inside(fuse.statement, *span) => {
            vec![Edit { span: *span, text: format!("{} A", rating.0) }]
        }
        _ => Vec::new(),
    }
}
