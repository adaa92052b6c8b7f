//! Faults and advice of plans as sentences.
