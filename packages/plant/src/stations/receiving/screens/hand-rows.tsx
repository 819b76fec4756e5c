import { useRef } from 'react';
import {
  ChoiceField,
  Part,
  printNumber,
  TextField,
  type TextKind,
} from '../../../workbench/index.ts';
import type { AnnounceDraft, ChangeAnnounceDraft } from './announce-draft.ts';
import {
  codeProblem,
  type HandDrum,
  handFields,
  typedDrums,
  withRowToFill,
} from './drums-by-hand.ts';
import { isWholeScan } from './whole-scan.ts';

const kinds: Readonly<Record<keyof HandDrum, TextKind>> = {
  drum: 'code',
  melt: 'code',
  pieces: 'whole number',
  gross: 'decimal',
  tare: 'decimal',
  seal: 'code',
  fineness: 'decimal',
};

/**
 * The drums typed or scanned off the supplier's document, one in a row. A row that waits always stands
 * at the end: a drum code that is scanned falls into it, and Enter goes on from field to field.
 */
export function DrumsByHand(props: {
  readonly draft: AnnounceDraft;
  readonly change: ChangeAnnounceDraft;
}) {
  const { massUnit } = props.draft;
  const drums = withRowToFill(props.draft.drums);
  const put = (index: number, part: Partial<HandDrum>) =>
    props.change({
      drums: withRowToFill(
        drums.map((drum, place) => (place === index ? { ...drum, ...part } : drum)),
      ),
    });
  const begun = typedDrums(drums).length;
  const rows = useRef<HTMLDivElement>(null);
  const write = (index: number, field: keyof HandDrum, text: string) => {
    const before = drums[index];
    put(index, { [field]: text });
    if (field !== 'drum' || !before?.melt || !isWholeScan(text, before.drum)) return;
    // The melt stands there already, as in the row before: after a scan the hands go on with the pieces.
    requestAnimationFrame(() =>
      rows.current
        ?.querySelectorAll('.drum-row')
        [index]?.querySelector<HTMLInputElement>('.entry-whole-number')
        ?.focus(),
    );
  };
  return (
    <Part
      title="Drums"
      aside={
        <span className="faint">{begun === 0 ? 'scan the first drum' : printNumber(begun)}</span>
      }
    >
      <ChoiceField
        label="Unit of mass"
        value={massUnit}
        choices={[
          { value: 'kg', label: 'kg' },
          { value: 'g', label: 'g' },
        ]}
        onChange={(unit) => props.change({ massUnit: unit })}
      />
      <div ref={rows}>
        {drums.map((drum, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a drum that is being typed has no id yet
          <fieldset className="drum-row" key={index} aria-label={`Row ${index + 1}`}>
            {handFields.map(([field, label]) => (
              <TextField
                key={field}
                label={label}
                kind={kinds[field]}
                value={drum[field]}
                onChange={(text) => write(index, field, text)}
                refusal={
                  field === 'drum' || field === 'seal'
                    ? codeProblem(drums, { index, field })
                    : undefined
                }
              />
            ))}
            <button
              type="button"
              className="row-remove"
              aria-label={`Remove row ${index + 1}`}
              disabled={index === drums.length - 1}
              onClick={() =>
                props.change({
                  drums: withRowToFill(drums.filter((_, place) => place !== index)),
                })
              }
            >
              remove
            </button>
          </fieldset>
        ))}
      </div>
    </Part>
  );
}
