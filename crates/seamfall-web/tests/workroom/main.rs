//! The workroom as a maker meets it: over HTTP and in a real browser.

mod around;
mod browser;
mod class;
mod cloth;
mod common;
mod drape;
mod draw;
mod driven;
mod falls;
mod finish;
mod fit;
mod gone;
mod guild;
mod guild_pages;
mod http;
mod lap;
mod load;
mod longer;
mod look;
mod mind;
mod offered;
mod print;
mod sewing;
mod words;
