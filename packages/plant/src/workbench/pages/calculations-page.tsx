import { useQuery } from '@tanstack/react-query';
import { inWords } from '../number-text.ts';
import { Page, Part, Pending } from '../page.tsx';
import { PathLink } from '../path-link.tsx';
import { read } from '../plant-client.ts';
import type { CalculationDescription } from './calculation-page.tsx';

type Listed = Pick<CalculationDescription, 'id' | 'title' | 'purpose' | 'topic' | 'source'>;

/** Every calculation that the product offers, by topic. */
export function CalculationsPage() {
  const { data, error } = useQuery({
    queryKey: ['calculations'],
    queryFn: () => read<{ calculations: readonly Listed[] }>('/api/calculations'),
    staleTime: Number.POSITIVE_INFINITY,
  });
  if (!data) {
    return (
      <Page title="Calculations">
        <Pending problem={error?.message} />
      </Page>
    );
  }
  const topics = [...Map.groupBy(data.calculations, (calculation) => calculation.topic)];
  return (
    <Page
      title="Calculations"
      about="The calculating desk: nothing done here is recorded. Each has its published source beside it."
    >
      {topics.map(([topic, calculations]) => (
        <Part key={topic} title={inWords(topic)}>
          <ul className="calculations">
            {calculations.map(({ id, title, purpose }) => (
              <li key={id}>
                <PathLink to={`/calculations/${id}`}>{title}</PathLink>
                <p>{purpose}</p>
              </li>
            ))}
          </ul>
        </Part>
      ))}
    </Page>
  );
}
