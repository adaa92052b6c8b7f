//! The shed.
