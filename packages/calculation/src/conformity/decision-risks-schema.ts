import { z } from 'zod';
import {
  anyFigure,
  limitFields,
  positiveFigure,
  probabilityFigure,
  standardUncertaintyField,
  unitField,
} from './limits-schema.ts';

const kind = <Kind extends string>(name: Kind) => z.literal(name).meta({ title: 'Process' });
const shape = 'a shape from 1 to 1e6';

export const processField = () =>
  z.discriminatedUnion(
    'kind',
    [
      z.strictObject({
        kind: kind('normal'),
        mean: anyFigure().meta({ title: 'Mean of the process' }),
        standardDeviation: positiveFigure().meta({
          title: 'Standard deviation of the process',
          description: 'Of the true values, the measuring error taken out',
        }),
      }),
      z.strictObject({
        kind: kind('gamma'),
        shape: z.number({ error: shape }).min(1, shape).max(1e6, shape).meta({ title: 'Shape' }),
        rate: positiveFigure().meta({
          title: 'Rate',
          description: 'Shape over mean; for a quantity that cannot be negative',
        }),
      }),
    ],
    { error: 'a process of kind normal or gamma' },
  );

export const decisionRisksInput = z.strictObject({
  unit: unitField(),
  process: processField(),
  measuringStandardUncertainty: standardUncertaintyField(),
  ...limitFields,
  guardBand: anyFigure().meta({
    title: 'Guard band',
    description: 'Acceptance limits lie this far inside the limits; below 0 outside; 0 for none',
  }),
  measuredValue: anyFigure().nullable().meta({
    title: 'Measured value of one item',
    description: 'For the risks of this item with the process known; none to leave them out',
  }),
});

export type DecisionRisksInput = z.infer<typeof decisionRisksInput>;

const oneItem = (title: string, description: string) =>
  z.number().min(0).max(1).nullable().meta({ title, description });

export const decisionRisksOutput = z.strictObject({
  processConformance: probabilityFigure('Conforming share', 'Of what the process makes'),
  acceptedShare: probabilityFigure('Accepted share', 'Of what the process makes'),
  consumerRisk: probabilityFigure(
    "Global consumer's risk",
    'Share of all items that do not conform and are accepted',
  ),
  producerRisk: probabilityFigure(
    "Global producer's risk",
    'Share of all items that conform and are not accepted',
  ),
  nonconformingShareOfAccepted: oneItem(
    'Nonconforming share of the accepted',
    'What the customer gets; none where nothing is accepted',
  ),
  refusedShareOfConforming: oneItem(
    'Refused share of the conforming',
    'None where nothing conforms',
  ),
  acceptanceLower: z.number().nullable().meta({ title: 'Lower acceptance limit' }),
  acceptanceUpper: z.number().nullable().meta({ title: 'Upper acceptance limit' }),
  itemConformanceProbability: oneItem(
    'Probability that the item conforms',
    'From its measured value and the process',
  ),
  itemAccepted: z.boolean().nullable().meta({ title: 'Item accepted' }),
  itemRisk: oneItem(
    'Specific risk of the decision on the item',
    "Consumer's where it is accepted, producer's where it is not",
  ),
  words: z.string().meta({ title: 'In words' }),
});

export type DecisionRisksOutput = z.infer<typeof decisionRisksOutput>;
