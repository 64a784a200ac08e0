// @ts-nocheck
import Module from 'manifold-3d';
import { openKernel } from '../../src/geometry/kernel.ts';
import { mainRibSolid } from '../../src/parts/mainRib.ts';
import { difference, cylinder } from '../../src/geometry/solids.ts';
const k = await openKernel();
const end=(h,j)=>({height:h,joggle:j,flat:18,tab:14,corner:2.4});
const mk=(i)=>mainRibSolid({length:262.5+i*.01,thickness:.635,radius:1.6,flange:14,turns:1,front:end(83.1,1.45),rear:end(50.6,1.45)});
const time=(n,f)=>{for(let i=0;i<15;i++)f(i);const t=performance.now();for(let i=0;i<30;i++)f(i+20);console.log(n,(performance.now()-t)/30)};
time('bare',i=>k.volume(mk(i)));
time('one y hole web',i=>k.volume(difference(mk(i),[cylinder([100,-1,0],[100,2,0],10)])));
time('one 45 hole',i=>k.volume(difference(mk(i),[cylinder([100,-3,43+3],[100,5,43-5],2.4)])));
time('4 45 hole',i=>k.volume(difference(mk(i),[100,120,140,160].map(x=>cylinder([x,-3,35+3],[x,5,35-5],2.4)))));
time('4 y hole',i=>k.volume(difference(mk(i),[100,120,140,160].map(x=>cylinder([x,-1,0],[x,2,0],2.4)))));
const w = await Module(); w.setup();
const A=w.Manifold.cube([100,1,50]);
time('raw 1',i=>{const c=w.Manifold.cylinder(10,2.4,2.4,24).rotate(90,0,0).translate(10+i,5,20);const d=A.subtract(c);d.volume()});
time('raw 4',i=>{const c=[0,1,2,3].map(j=>w.Manifold.cylinder(10,2.4,2.4,24).rotate(90,0,0).translate(10+j*8+i*.01,5,20));const d=w.Manifold.difference([A,...c]);d.volume()});
time('raw 4b',i=>{const c=[0,1,2,3].map(j=>w.Manifold.cylinder(10,2.4,2.4,24).rotate(90,0,0).translate(10+j*8+i*.01,5,20));const d=A.subtract(w.Manifold.compose(c));d.volume()});
