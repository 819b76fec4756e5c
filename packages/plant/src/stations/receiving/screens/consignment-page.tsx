import {
  Empty,
  Page,
  PathLink,
  Pending,
  type ScreenProps,
  useQuestion,
} from '../../../workbench/index.ts';
import { AdmitDrum } from './admit-drum.tsx';
import { ConsignmentFrame } from './consignment-frame.tsx';
import type { ConsignmentAnswer, DeskAnswer } from './desk-answer.ts';
import { OtherActs } from './other-acts.tsx';
import { DrawSamples, OrderSamples, ResumeFirst } from './sampling-acts.tsx';
import { TallyDrum } from './tally-drum.tsx';
import { WeighDrum } from './weigh-drum.tsx';

/** One consignment from its drums to its draws; the act that comes next is the page's. */
export function ConsignmentPage({ params }: ScreenProps) {
  const name = params['consignment'] ?? '';
  const { answer, problem } = useQuestion<ConsignmentAnswer | null>('consignment', {
    consignment: name,
  });
  const desk = useQuestion<DeskAnswer>('receiving-desk');
  if (answer === undefined || !desk.answer) {
    return (
      <Page title={`Consignment ${name}`}>
        <Pending problem={problem ?? desk.problem} />
      </Page>
    );
  }
  if (answer === null) {
    return (
      <Page title={`Consignment ${name}`}>
        <Empty
          what="No consignment of this name was announced."
          how={<PathLink to="/receiving/announce">Announce it with its packing list.</PathLink>}
        />
      </Page>
    );
  }
  return <NextAct answer={answer} desk={desk.answer} />;
}

/** The page of the one act that is due, as the books say. */
function NextAct(props: { readonly answer: ConsignmentAnswer; readonly desk: DeskAnswer }) {
  const { answer, desk } = props;
  switch (answer.next.command) {
    case 'weigh-drum':
      return <WeighDrum answer={answer} desk={desk} />;
    case 'tally-drum':
      return <TallyDrum answer={answer} />;
    case 'admit-drum':
      return <AdmitDrum answer={answer} />;
    case 'order-samples':
      return <OrderSamples answer={answer} />;
    case 'resume-inspection':
      return <ResumeFirst answer={answer} />;
    case 'record-draw':
      return <DrawSamples answer={answer} />;
    case null:
      return (
        <ConsignmentFrame answer={answer} others={<OtherActs answer={answer} />}>
          <p>{answer.next.words}</p>
        </ConsignmentFrame>
      );
  }
}
