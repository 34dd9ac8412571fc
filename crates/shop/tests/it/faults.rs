//! Faults of the world.
