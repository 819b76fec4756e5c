/// <reference types="vite/client" />
import '@fontsource-variable/atkinson-hyperlegible-next/wght.css';
import '@fontsource-variable/atkinson-hyperlegible-mono/wght.css';
import '../workbench/look/look.css';
import { QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { RouterProvider } from '@tanstack/react-router';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import type { Screen } from '../workbench/screen.ts';
import { SessionProvider } from '../workbench/session.tsx';
import { applyStoredTheme } from '../workbench/theme.tsx';
import { makeWorkbenchRouter } from '../workbench/workbench-router.tsx';

const found = import.meta.glob<{ screens: readonly Screen[] }>('../stations/*/screen.tsx', {
  eager: true,
});

const router = makeWorkbenchRouter({
  screens: Object.values(found).flatMap((module) => module.screens),
  line: [
    { place: 'receiving', title: 'Receiving', path: '/receiving' },
    { place: 'laboratory', title: 'Laboratory', path: '/laboratory' },
    { place: 'press-room', title: 'Press room', path: '/press-room' },
    { place: 'put-up', title: 'Put-up', path: '/put-up' },
    { place: 'strong-room', title: 'Strong room', path: '/certificate' },
  ],
  aside: [
    { place: 'archive', title: 'Archive', path: '/account' },
    { place: 'scrap', title: 'Scrap', path: '/account' },
    { place: 'in-transit', title: 'In transit', path: '/account' },
  ],
});

const client = new QueryClient({ defaultOptions: { queries: { refetchOnWindowFocus: true } } });
const place = document.getElementById('workbench');
if (!place) throw new Error('the page has no place for the workbench');

applyStoredTheme();
createRoot(place).render(
  <StrictMode>
    <QueryClientProvider client={client}>
      <SessionProvider>
        <RouterProvider router={router} />
      </SessionProvider>
    </QueryClientProvider>
  </StrictMode>,
);
