//! Tests of the whole live in `tests/tests`; this library holds what they share.
