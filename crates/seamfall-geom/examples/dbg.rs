use seamfall_geom::*;
fn main(){
let p=Point::new;
let c=[p(2.520353788969374,1.6272113502639174),p(1.0609118098183226,2.806147916947361),p(-0.3819914616823702,2.975581039595757),p(-2.1438246035236306,2.098574770964034),p(-2.9917545352606005,0.2222719072389201),p(-4.315146664707353,-2.463108584200753),p(-1.213657037579594,-3.2138298135133985),p(0.47171032760030973,-4.199902110533305),p(2.1656781907982037,-2.0760149262230794),p(3.0,4.594282438712339e-15)];
let mut e=Loop::polygon(&c).edges().to_vec();
e[5]=Edge::Arc{from:c[5],to:c[6],centre:p(-4.013419991237297,-7.9985960932866345),turn:Turn::Right};
println!("turn {:?} {:?}", e[5].direction_to().cross(e[6].direction_from()), e[4].direction_to().cross(e[5].direction_from()));
let o=Loop::new(e);
let g=grow(&o,0.07293620106878614,TipTrim::Full);
println!("{g:?}");
let b=grow(&g.unwrap(),-0.07293620106878614,TipTrim::Full);
println!("{b:?}");

let f=Loop::rect(Rect::new(0.,0.,6.,6.));
let l=|a,b,c,d|Edge::Line{from:p(a,b),to:p(c,d)};
let s=[l(2.9884869558023617,2.3566708940049605,2.011509873071951,2.1433266186667743),l(-0.6915717054690416,-0.5073960979059282,5.701070080272276,5.015607023368941),l(2.0483062880087846,2.0355873358507086,2.9516937119912154,2.4644126641492914),l(-0.8341137183612992,2.6307313131466534,2.996771522914041,2.1932705408803845)];
let a=arrange(&f,&s);
for (i,v) in a.vertices.iter().enumerate(){println!("{i} {v:?}");}
for (i,e) in a.edges.iter().enumerate(){println!("{i} {:?} {}->{} {:?} {:?} {}",e.source,e.from,e.to,e.left,e.right, e.edge.length());}
for f in &a.faces{println!("{} {:?} holes {}",f.area(),f.edges,f.holes.len());}
}
