//! Files and pages that people read.
