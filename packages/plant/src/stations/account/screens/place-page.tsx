import { useState } from 'react';
import {
  Empty,
  Page,
  PathLink,
  Pending,
  type ScreenProps,
  useMay,
  useQuestion,
} from '../../../workbench/index.ts';
import { type DeskAnswer, type DeskPlace, placeTitle } from './desk-answer.ts';
import { PlaceBalance } from './place-balance.tsx';
import { TallyPlace } from './tally-place.tsx';

/** One place: counted without sight of the book, or compared by those who may see it. */
export function PlacePage({ params }: ScreenProps) {
  const name = params['place'] ?? '';
  const { answer, problem } = useQuestion<DeskAnswer>('balance-desk');
  if (!answer) {
    return (
      <Page title={placeTitle(name)}>
        <Pending problem={problem} />
      </Page>
    );
  }
  const place = answer.places.find((one) => one.place === name);
  if (!place) {
    return (
      <Page title={placeTitle(name)}>
        <Empty
          what="No metal is counted at a place of this name."
          how={<PathLink to="/account">The balance desk lists the places.</PathLink>}
        />
      </Page>
    );
  }
  return <OnePlace key={name} place={place} seesBook={answer.seesBook} />;
}

function OnePlace(props: { readonly place: DeskPlace; readonly seesBook: boolean }) {
  const { place, seesBook } = props;
  const mayCount = useMay('tally-place');
  const [isCounting, count] = useState(mayCount && (!seesBook || !place.tally));
  if (isCounting || !seesBook) {
    return <TallyPlace place={place} onCompare={seesBook ? () => count(false) : undefined} />;
  }
  return <PlaceBalance place={place} onCount={mayCount ? () => count(true) : undefined} />;
}
