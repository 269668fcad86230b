use planting::*;
use planting::light::*;
#[test]
fn zz_coarse() {
    let mut worst: Vec<f64> = Vec::new();
    for i in 0..1500 {
        let s = crate::cures::drawn(i);
        let g = Ground::lay(&s,&mut planting::ground::Memory::default()).unwrap();
        let scene = light::asks::scene(&s, &g.last_year().crown);
        let c = in_crowns(&scene,&Directions::of(&scene.site, Sampling::COARSE.fineness),&Sampling::COARSE).whole.under[0];
        if (c-0.5).abs()<0.1 {
        let f = in_crowns(&scene,&Directions::of(&scene.site, Sampling::SHOWN.fineness),&Sampling::SHOWN).whole.under[0];
        worst.push((c-f).abs()); }
    }
    worst.sort_by(f64::total_cmp);
    println!("{} {:.4} {:.4} {:.4}", worst.len(), worst[worst.len()/2], worst[worst.len()*95/100], worst[worst.len()-1]);
}
