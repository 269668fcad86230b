//! Checks of the model against published values, exact identities and laws.
//!
//! One file a subject. Rows carry the source they were read from; «from memory» and «common practice»
//! stand where that is all there is. Exact identities come before golden numbers, and laws are tried
//! over the whole range of every input.

#![allow(clippy::disallowed_methods, reason = "what runs on the host needn't be small")]

mod advice;
mod advisers;
mod block;
mod charts;
mod crop;
mod crop_laws;
mod crown;
mod cures;
mod density;
mod digits;
mod drawings;
mod export;
mod fixture;
mod growth;
mod hand;
mod hostile;
mod interval;
mod laws;
mod light_advice;
mod light_leaves;
mod light_limits;
mod light_naive;
mod light_rays;
mod light_season;
mod light_smooth;
mod light_sun;
mod light_trends;
mod loads;
mod loads_ends;
mod loads_laws;
mod loads_order;
mod loads_soil;
mod loads_units;
mod loads_wire;
mod memory;
mod outline;
mod scenario;
mod schema;
mod share;
mod smooth;
mod stock;
mod strategy;
mod system;
mod totality;
mod tree;
mod tree_laws;
mod trellis;
