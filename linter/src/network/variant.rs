//! The same network at another corner: other EMFs, other set voltages, warmer conductors and coils.

use std::sync::Arc;

use wattle_grammar::quantity::Volts;

use super::{Converter, Element, ElementId, Follower, Law, Network};

/// A network with some of its numbers changed. Its shape stays.
#[derive(Clone, Copy, Debug)]
pub struct Variant<'a> {
    /// The network. The solver keeps what it has laid out of it for the next variant.
    pub network: &'a Arc<Network>,
    /// Electromotive forces that take the place of the network's, by rising element. What is no source stays as it is.
    pub emf: &'a [(ElementId, Volts)],
    /// The factor on the resistance of each element that is a resistor, by element.
    pub warmth: Option<&'a Arc<[f64]>>,
    /// Set voltages in place of the converters', by converter; the network's where it is empty.
    pub set: &'a [Volts],
    /// The factor on the operate and release voltages of each contact that follows a coil; none at all where it is empty.
    pub coils: &'a [f64],
}

impl<'a> Variant<'a> {
    /// The network as it is.
    #[must_use]
    pub const fn plain(network: &'a Arc<Network>) -> Self {
        Self { network, emf: &[], warmth: None, set: &[], coils: &[] }
    }

    /// Whether the changed voltages can be computed with.
    pub(super) fn has_sound_volts(&self) -> bool {
        let mut volts = self.emf.iter().map(|(_, emf)| emf).chain(self.set);
        volts.all(|volts| volts.0.abs() < 1e12)
    }

    /// Whether its elements surely have the laws of another one's. Converters and coils may differ.
    pub(super) fn has_laws_of(&self, other: &Self) -> bool {
        self.is_as_warm_as(other.warmth)
            && Arc::ptr_eq(self.network, other.network)
            && std::ptr::eq(self.emf, other.emf)
    }

    /// Whether its resistors surely have these factors.
    pub(super) fn is_as_warm_as(&self, warmth: Option<&Arc<[f64]>>) -> bool {
        match (self.warmth, warmth) {
            (Some(one), Some(other)) => Arc::ptr_eq(one, other),
            (one, other) => one.is_none() && other.is_none(),
        }
    }

    /// The law of an element, by its number.
    pub(super) fn law(&self, number: usize, element: &Element) -> Law {
        match element.law {
            Law::Resistor(ohms) => {
                let factor = self.warmth.and_then(|warmth| warmth.get(number));
                Law::Resistor(ohms * factor.copied().unwrap_or(1.0))
            }
            Law::Source { emf, resistance } => {
                let id = ElementId(number as u32);
                let other = self.emf.binary_search_by_key(&id, |(source, _)| *source);
                let emf = other.ok().and_then(|at| self.emf.get(at)).map_or(emf, |(_, emf)| *emf);
                Law::Source { emf, resistance }
            }
            law => law,
        }
    }

    /// A converter, by its number.
    pub(super) fn converter(&self, number: usize, converter: &Converter) -> Converter {
        let output_volts = self.set.get(number).copied().unwrap_or(converter.output_volts);
        Converter { output_volts, ..*converter }
    }

    fn follower(&self, number: usize, follower: &Follower) -> Follower {
        let factor = self.coils.get(number).copied().unwrap_or(1.0);
        let (operate, release) = (follower.operate * factor, follower.release * factor);
        Follower { operate, release, ..*follower }
    }

    /// The network with its changed numbers.
    #[must_use]
    pub fn network(&self) -> Network {
        let mut network = Network::clone(self.network);
        for (number, element) in network.elements.iter_mut().enumerate() {
            element.law = self.law(number, element);
        }
        for (number, converter) in network.converters.iter_mut().enumerate() {
            *converter = self.converter(number, converter);
        }
        for (number, follower) in network.followers.iter_mut().enumerate() {
            *follower = self.follower(number, follower);
        }
        network
    }
}
