//! Writes the sewing orders of the quilts of the tests as JSON: joins and the courses of seams, nothing of meetings or falls. An
//! independent solver finds the least stacks from it; see `tests/reference/falls/least.py`.

use seamfall_geom::{Edge, Point, Turn};
use seamfall_plan::piece::{Design, Sewing, Sewn, TopRef};
use seamfall_plan::{draft, piece, set};
use seamfall_testkit::{nine_of_each_block, pressing_quilts};
use serde_json::{Value, json};

fn main() {
    let quilts: Vec<Value> =
        nine_of_each_block().into_iter().chain(pressing_quilts()).map(|(name, quilt)| instance(&name, &quilt)).collect();
    println!("{}", Value::Array(quilts));
}

fn instance(name: &str, quilt: &seamfall_model::Quilt) -> Value {
    let drafts: Vec<draft::Draft> = quilt.blocks.iter().map(|block| draft::derive(quilt, block).result).collect();
    let top = set::derive(quilt).result;
    let piecing = piece::derive(quilt, &drafts, &top).result;
    let places: Vec<Value> = top
        .places
        .iter()
        .zip(&piecing.holds)
        .map(|(place, held)| json!({ "design": held.design, "matrix": place.pose.coefficients() }))
        .collect();
    let pieces: Vec<Value> = piecing
        .top_pieces
        .iter()
        .map(|piece| match *piece {
            TopRef::Place(place) => json!(place),
            TopRef::Strip(_) => Value::Null,
        })
        .collect();
    json!({
        "name": name,
        "designs": piecing.designs.iter().map(|design: &Design| json!({
            "orders": design.orders.iter().map(order).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "places": places,
        "top_pieces": pieces,
        "top": piecing.top.iter().map(order).collect::<Vec<_>>(),
    })
}

fn order(sewing: &Sewing) -> Value {
    let part = |sewn: Sewn| match sewn {
        Sewn::Piece(piece) => json!(["piece", piece]),
        Sewn::Join(join) => json!(["join", join]),
    };
    let joins = sewing.joins.iter().map(|join| {
        json!({
            "left": part(join.left),
            "right": part(join.right),
            "seams": join.seams,
            "bends": join.bends.iter().map(|bend| point(bend.at)).collect::<Vec<_>>(),
        })
    });
    let seams = sewing.seams.iter().map(|seam| json!(seam.course.iter().map(|stretch| edge(&stretch.edge)).collect::<Vec<_>>()));
    json!({ "joins": joins.collect::<Vec<_>>(), "seams": seams.collect::<Vec<_>>() })
}

fn point(point: Point) -> [f64; 2] {
    [point.x, point.y]
}

fn edge(edge: &Edge) -> Value {
    match *edge {
        Edge::Line { from, to } => json!({ "from": point(from), "to": point(to) }),
        Edge::Arc { from, to, centre, turn } => {
            json!({ "from": point(from), "to": point(to), "centre": point(centre), "left": turn == Turn::Left })
        }
    }
}
