import { ChoiceField, PaperLink } from '../../../workbench/index.ts';

/** Sizes of the trays on which blanks are laid out; none where they are counted out of the drum. */
const traySizes = ['none', '25', '50', '100', '200'] as const;

export type TraySize = (typeof traySizes)[number];

/** How the blanks are laid out, and the list as a paper. */
export function TrayChoice(props: {
  readonly melt: string;
  readonly paper: 'pick-list' | 'further-pick-list';
  readonly tray: TraySize;
  readonly change: (tray: TraySize) => void;
}) {
  const { melt, paper, tray, change } = props;
  return (
    <div className="not-printed">
      <ChoiceField
        label="The blanks are laid out on"
        value={tray}
        choices={traySizes.map((size) => ({
          value: size,
          label: size === 'none' ? 'no trays' : `trays of ${size}`,
        }))}
        onChange={change}
      />
      <span className="pick-list-paper">
        <PaperLink paper={paper} id={tray === 'none' ? melt : `${melt}@${tray}`}>
          Print the pick list
        </PaperLink>
      </span>
    </div>
  );
}
