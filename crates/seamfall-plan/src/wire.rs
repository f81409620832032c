//! The plan as JSON: its own types, so that what others read does not change when the inside does.
