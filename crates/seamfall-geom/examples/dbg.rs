use seamfall_geom::*;
fn main(){
let p=Point::new;
let f=Loop::rect(Rect::new(0.,0.,6.,6.));
let s=[Edge::Arc{from:p(1.9999974191137586,5.0),to:p(3.0,2.00000242097713),centre:p(2.499998709556879,3.500001210488565),turn:Turn::Left},
Edge::Line{from:p(2.0,2.0000024964550702),to:p(0.0,0.0)},
Edge::Arc{from:p(0.0,1.0),to:p(2.0,3.0),centre:p(1.0,2.0),turn:Turn::Left},
Edge::Line{from:p(4.0,1.0),to:p(2.000001315770235,2.0000027287124795)}];
let a=arrange(&f,&s);
for (i,v) in a.vertices.iter().enumerate(){println!("{i} {v:?}");}
for (i,e) in a.edges.iter().enumerate(){println!("{i} {:?} {}->{} {:?} {:?} {}",e.source,e.from,e.to,e.left,e.right, e.edge.length());}
for f in &a.faces{println!("{} {:?} holes {}",f.area(),f.edges,f.holes.len());}
println!("{:?}",a.loose_ends);
}
