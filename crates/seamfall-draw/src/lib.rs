//! SVG and DXF drawings of the plan.
