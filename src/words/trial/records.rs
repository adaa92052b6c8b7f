//! Faults of records and tables as sentences.
