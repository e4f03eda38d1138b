//! Plus and minus.

pub mod opposed_sources;
pub mod reversed_diode;
pub mod reversed_part;
pub mod shorted_source;
pub mod swapped_ways;
