import { useEffect, useRef } from 'react';
import { ChoiceField, Part, TextField, type TextKind } from '../../../workbench/index.ts';
import type { AnnounceDraft, ChangeAnnounceDraft } from './announce-draft.ts';
import { type HandDrum, handFields, nextDrum } from './drums-by-hand.ts';

const kinds: Readonly<Record<keyof HandDrum, TextKind>> = {
  drum: 'code',
  melt: 'code',
  pieces: 'whole number',
  gross: 'decimal',
  tare: 'decimal',
  seal: 'code',
  fineness: 'decimal',
};

/** The drums typed off the supplier's document, one in a row; Enter goes on and adds the next one. */
export function DrumsByHand(props: {
  readonly draft: AnnounceDraft;
  readonly change: ChangeAnnounceDraft;
}) {
  const { drums, massUnit } = props.draft;
  const rows = useRef<HTMLDivElement>(null);
  const shown = useRef(drums.length);
  useEffect(() => {
    // Whoever added a drum goes on in its first field.
    if (drums.length > shown.current) {
      rows.current?.querySelector<HTMLInputElement>('.drum-row:last-child input')?.focus();
    }
    shown.current = drums.length;
  }, [drums.length]);
  const put = (index: number, part: Partial<HandDrum>) =>
    props.change({
      drums: drums.map((drum, place) => (place === index ? { ...drum, ...part } : drum)),
    });
  return (
    <Part title="Drums">
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
                onChange={(text) => put(index, { [field]: text })}
              />
            ))}
            <button
              type="button"
              className="row-remove"
              aria-label={`Remove row ${index + 1}`}
              onClick={() => props.change({ drums: drums.filter((_, place) => place !== index) })}
            >
              remove
            </button>
          </fieldset>
        ))}
      </div>
      <button
        type="button"
        className="quiet-button"
        data-goes-on
        onClick={() => props.change({ drums: [...drums, nextDrum(drums.at(-1))] })}
      >
        Add a drum
      </button>
    </Part>
  );
}
