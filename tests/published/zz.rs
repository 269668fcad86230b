use planting::*;
use std::time::Instant;
#[test]
fn zz_time() {
    let mut n=0.0; let (mut a,mut b)=(0.0,0.0); let mut c=0.0;
    for i in 0..200 {
        let s = crate::cures::drawn(i);
        let mut m = Memory::default();
        let t=Instant::now(); let g = Ground::lay(&s,&mut m.ground).unwrap(); let f=g.advice(); a+=t.elapsed().as_secs_f64();
        let t=Instant::now(); let g2=findings(&s,&mut m).unwrap(); b+=t.elapsed().as_secs_f64();
        let mut f2=g2.clone();
        let t=Instant::now(); remedies::solve_all(&s,&mut f2,Rounding::Us); c+=t.elapsed().as_secs_f64();
        n+=1.0; assert!(f.len()<=g2.len());
    }
    println!("ground {:.3} ms, light {:.3} ms, solve {:.3} ms", a/n*1e3,b/n*1e3,c/n*1e3);
}
