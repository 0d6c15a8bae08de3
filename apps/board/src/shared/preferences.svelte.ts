export type Theme = 'system' | 'light' | 'dark';

const NAME_KEY = 'blockbell.by';
const THEME_KEY = 'blockbell.theme';
const LONGEST_NAME = 40;

/** What this viewer chose, kept in this browser. */
export class Preferences {
  /** The name that stands on this viewer's commands; null until it has been asked for. */
  by = $state<string | null>(localStorage.getItem(NAME_KEY));
  theme = $state<Theme>(themeOf(localStorage.getItem(THEME_KEY)));

  setName(name: string): void {
    this.by = name.trim().slice(0, LONGEST_NAME) || 'dispatcher';
    localStorage.setItem(NAME_KEY, this.by);
  }

  setTheme(theme: Theme): void {
    this.theme = theme;
    localStorage.setItem(THEME_KEY, theme);
  }
}

const themeOf = (stored: string | null): Theme =>
  stored === 'light' || stored === 'dark' ? stored : 'system';
