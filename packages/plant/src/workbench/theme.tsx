import { useEffect, useState } from 'react';

type Theme = 'system' | 'light' | 'dark';
const order: readonly Theme[] = ['system', 'light', 'dark'];
const key = 'cupel theme';

function storedTheme(): Theme {
  try {
    const stored = localStorage.getItem(key);
    return order.find((theme) => theme === stored) ?? 'system';
  } catch {
    return 'system';
  }
}

/** Sets light or dark before the first paint. */
export function applyStoredTheme(): void {
  document.documentElement.dataset.theme = storedTheme();
}

/** Turns from what the system asks for to light and to dark. */
export function ThemeButton() {
  const [theme, setTheme] = useState(storedTheme);
  useEffect(() => {
    document.documentElement.dataset.theme = theme;
    try {
      localStorage.setItem(key, theme);
    } catch {
      // Without storage the choice lasts as long as the page.
    }
  }, [theme]);
  const next = order[(order.indexOf(theme) + 1) % order.length] ?? 'system';
  const words = { system: 'as the system', light: 'light', dark: 'dark' };
  return (
    <button
      type="button"
      className="quiet-button"
      onClick={() => setTheme(next)}
      title={`Turn to ${words[next]}`}
    >
      Shown {words[theme]}
    </button>
  );
}
