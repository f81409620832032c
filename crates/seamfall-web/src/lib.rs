//! The workroom in the browser.
