//! The printed book of a plan, typeset by typst.
