//! Measures nesting on the lists with templates.
use std::time::Instant;
use seamfall_cutting::nest::{Budget, Cloth, Template, Turns, cut};
use seamfall_geom::{Loop, Point};
fn main() {
    let folder = std::env::args().nth(1).expect("folder");
    for name in ["fans-40", "hexagons-42", "kites-40", "leaves-42", "tumblers-54"] {
        let text = std::fs::read_to_string(format!("{folder}/{name}.json")).unwrap();
        let v: serde_json::Value = serde_json::from_str(&text).unwrap();
        let templates: Vec<Template> = v["items"].as_array().unwrap().iter().map(|item| Template {
            name: item["id"].as_str().unwrap().into(),
            outline: Loop::polygon(&item["polygon"].as_array().unwrap().iter().map(|p| Point::new(p[0].as_f64().unwrap(), p[1].as_f64().unwrap())).collect::<Vec<_>>()),
            count: item["count"].as_u64().unwrap() as u32,
            turns: Turns::Listed(item["turns"].as_array().unwrap().iter().map(|t| t.as_f64().unwrap()).collect()),
        }).collect();
        let cloth = Cloth { width: v["strip_width"].as_f64().unwrap(), gap: 0.0 };
        for budget in [Budget::QUICK, Budget::FULL, Budget { steps: 40_000_000 }] {
        let start = Instant::now();
        let n = cut(&templates, cloth, budget).unwrap();
        println!("{name} {:.4} bound {:.4} density {:.4} strips {} ms {:.1}", n.length, n.area_bound, n.density(), n.strips.len(), start.elapsed().as_secs_f64()*1e3);
        }
    }
}
