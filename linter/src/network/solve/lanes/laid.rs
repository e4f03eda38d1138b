//! What a lane is laid with: with it, another charge or warmth of the same network costs only what changes.

use std::sync::Arc;

use wattle_grammar::quantity::{Ohms, Volts};

use super::field::Field;
use crate::network::{ElementId, Law, Network, Variant};

/// What a lane is laid with.
#[derive(Clone, Debug)]
pub(super) struct Laid {
    network: Arc<Network>,
    warmth: Option<Arc<[f64]>>,
    emf: Vec<(ElementId, Volts)>,
    /// The loads that have a cut-off, by their numbers.
    pub(super) loads: Vec<(u32, Volts)>,
}

impl Laid {
    /// A lane that has just been laid.
    pub(super) fn new(variant: &Variant<'_>) -> Self {
        Self {
            loads: loads(variant.network),
            network: variant.network.clone(),
            warmth: variant.warmth.cloned(),
            emf: variant.emf.to_vec(),
        }
    }

    /// Whether it is laid with this network. The network is kept, so no other can be at its place.
    pub(super) fn is_of(&self, variant: &Variant<'_>) -> bool {
        Arc::ptr_eq(&self.network, variant.network)
    }

    /// Lays what differs in another variant, of this network or of another on the same plan, into a lane of a field. Contacts
    /// and converters are laid by the search.
    pub(super) fn follow<const W: usize>(
        &mut self,
        variant: &Variant<'_>,
        lane: usize,
        field: &mut Field<W>,
    ) {
        if !self.is_of(variant) {
            self.change(variant, lane, field);
        }
        let elements = &variant.network.elements;
        if self.emf != variant.emf {
            for (ElementId(number), _) in self.emf.iter().chain(variant.emf) {
                let number = *number as usize;
                if let Some(element) = elements.get(number) {
                    field.set_law(number, lane, &variant.law(number, element));
                }
            }
            self.emf.clear();
            self.emf.extend_from_slice(variant.emf);
        }
        if !variant.is_as_warm_as(self.warmth.as_ref()) {
            for (number, element) in elements.iter().enumerate() {
                if let Law::Resistor(Ohms(ohms)) = variant.law(number, element) {
                    field.warm(number, lane, 1.0 / ohms);
                }
            }
            self.warmth = variant.warmth.cloned();
        }
    }

    /// Lays what differs in another network: elements of other laws, and all that the search has laid in this one.
    fn change<const W: usize>(&mut self, variant: &Variant<'_>, lane: usize, field: &mut Field<W>) {
        let (old, new) = (self.network.clone(), variant.network);
        let mut lay = |number: usize| {
            if let Some(element) = new.elements.get(number) {
                field.set_law(number, lane, &variant.law(number, element));
            }
        };
        let pairs = old.elements.iter().zip(&new.elements).enumerate();
        pairs.filter(|(_, (old, new))| old.law != new.law).for_each(|(number, _)| lay(number));
        old.followers.iter().for_each(|follower| lay(follower.contact.0 as usize));
        for converter in &old.converters {
            lay(converter.input.0 as usize);
            lay(converter.output.0 as usize);
        }
        self.network = new.clone();
        self.loads = loads(new);
    }
}

/// The loads of a network that have a cut-off, by their numbers.
fn loads(network: &Network) -> Vec<(u32, Volts)> {
    let cutoff = |law: &Law| match *law {
        Law::PowerLoad { cutoff, .. } | Law::CurrentLoad { cutoff, .. } => Some(cutoff),
        _ => None,
    };
    let elements = (0u32..).zip(&network.elements);
    elements.filter_map(|(number, element)| Some((number, cutoff(&element.law)?))).collect()
}
