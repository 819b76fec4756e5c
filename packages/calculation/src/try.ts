import { attributePlanCalculation as a } from './sampling/attribute-plan.ts';
import { drawCalculation as d } from './sampling/draw.ts';
import { stepXoshiro } from './sampling/seeded-integers.ts';
import { z } from 'zod';
console.log(a.compute(a.example), JSON.stringify(a.draw?.(a.example,a.compute(a.example))).slice(0,300));
for (const lot of [30,60,25]) console.log(a.compute({lotSizePieces:lot,inspectionLevel:'II',acceptanceQualityLimitPercent:.4,severity:'normal'}));
console.log(JSON.stringify(d.compute(d.example)));
const s:[bigint,bigint,bigint,bigint]=[1n,2n,3n,4n]; console.log([1,2,3,4,5].map(()=>stepXoshiro(s)));
console.log(JSON.stringify(z.toJSONSchema(a.input)));
