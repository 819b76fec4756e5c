import {
  type Browser,
  type BrowserContext,
  chromium,
  type Locator,
  type Page,
} from 'playwright-core';
import { demonstrationPassword } from '../simulation/make-demonstration.ts';

/** Chromium as the test command found it. */
export async function openBrowser(): Promise<Browser> {
  const executablePath = process.env['CUPEL_CHROMIUM'] ?? '/usr/bin/chromium';
  return chromium.launch({
    executablePath,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
}

/** A person at a screen of his own: what he sees and does there. */
export class Hands {
  readonly person: string;
  readonly page: Page;
  /** Errors that the page itself reported. */
  readonly errors: string[] = [];
  readonly #address: string;
  readonly #context: BrowserContext;

  private constructor(person: string, address: string, context: BrowserContext, page: Page) {
    this.person = person;
    this.page = page;
    this.#address = address;
    this.#context = context;
    page.on('pageerror', (error) => this.errors.push(error.message));
  }

  /** Opens a screen and signs in. */
  static async signIn(
    browser: Browser,
    address: string,
    person: string,
    options: { readonly width?: number; readonly height?: number; readonly dark?: boolean } = {},
  ): Promise<Hands> {
    const context = await browser.newContext({
      viewport: { width: options.width ?? 1280, height: options.height ?? 800 },
      colorScheme: options.dark ? 'dark' : 'light',
      locale: 'en-GB',
      timezoneId: 'Europe/Vienna',
      reducedMotion: 'reduce',
      acceptDownloads: true,
    });
    context.setDefaultTimeout(15_000);
    const hands = new Hands(person, address, context, await context.newPage());
    await hands.page.goto(address);
    await hands.fill('Sign-in name', person);
    await hands.fill('Password', demonstrationPassword(person));
    await hands.page.keyboard.press('Enter');
    await hands.page.getByRole('navigation', { name: 'The line' }).waitFor();
    return hands;
  }

  async go(path: string): Promise<void> {
    await this.page.goto(this.#address + path);
    await this.page.getByRole('heading', { level: 1 }).waitFor();
    await this.page.locator('.pending').first().waitFor({ state: 'detached' });
  }

  /** The first visible field of that label; a label may add that its field waits or may stay empty. */
  field(label: string | RegExp): Locator {
    const words = label.toString().replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
    const name =
      typeof label === 'string' ? new RegExp(`^${words}( \\(may stay empty\\))?( waits)?$`) : label;
    return this.page.getByLabel(name).filter({ visible: true }).first();
  }

  async fill(label: string | RegExp, text: string): Promise<void> {
    await this.field(label).fill(text);
  }

  /** Chooses by the words of a choice, laid open or folded. */
  async choose(words: string | RegExp): Promise<void> {
    await this.page.getByRole('radio', { name: words }).first().check();
  }

  async press(name: string | RegExp): Promise<void> {
    await this.page.getByRole('button', { name }).filter({ visible: true }).first().click();
  }

  /** Presses an act and signs it, with a second person where one is named. */
  async sign(name: string | RegExp, witness?: string): Promise<void> {
    await this.press(name);
    const dialog = this.page.getByRole('dialog');
    await dialog.getByLabel('Your password').fill(demonstrationPassword(this.person));
    if (witness !== undefined) {
      await dialog.getByLabel('Sign-in name of the second person').fill(witness);
      await dialog.getByLabel('Password of the second person').fill(demonstrationPassword(witness));
    }
    await dialog.locator('button[type=submit]').click();
  }

  /** Waits until the page says that. */
  async sees(words: string | RegExp): Promise<void> {
    await this.page.getByText(words).first().waitFor();
  }

  async leave(): Promise<void> {
    await this.#context.close();
  }
}
