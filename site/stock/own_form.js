// A form of its own beside the plan, that belongs to no job: will this board make it, what to buy. The build makes its
// fields from the core's table.

import {FormEntries} from '../base/form_entries.js'

/** @import {Answer, Question, Settings} from '../base/types.js' */
/** @typedef {'slab' | 'buy'} FormName */

/**
 * @typedef {object} Handlers
 * @property {(name: FormName, question: Question<FormName>) => Promise<Answer<FormName> | null>} onAsk
 * @property {() => Partial<Record<string, Settings>>} forms the texts as they were kept
 * @property {(name: FormName, texts: Settings) => void} onForm these are to be kept
 * @property {(html: string, words?: string) => void} paint
 */

export class OwnForm {
  #name
  #handlers
  #entries
  /** The question whose answer is on the page. @type {Record<string, unknown> | undefined} */
  asked

  /** @param {HTMLElement} root @param {FormName} name @param {Handlers} handlers */
  constructor(root, name, handlers) {
    this.#name = name
    this.#handlers = handlers
    this.root = root
    this.#entries = new FormEntries(root, () => this.#ask())
  }

  /** Asked once more, with the texts as they were kept. */
  again() {
    this.#entries.fill(this.#kept())
    this.#ask()
  }

  #kept() {
    return this.#handlers.forms()[this.#name] ?? {}
  }

  async #ask() {
    const [name, {key}] = [this.#name, this.#entries]
    const given = this.#entries.texts()
    if (JSON.stringify(given) !== JSON.stringify(this.#kept())) this.#handlers.onForm(name, given)
    if (!Object.keys(given).length) return this.#handlers.paint('')
    const said = await this.#handlers.onAsk(name, {ask: name, [key]: given})
    if (!said) return
    this.asked = {form: name, [key]: given}
    const missing = this.#entries.tell(said.ok ? [] : said.problems)
    this.#handlers.paint(said.html?.[name] ?? '', missing.length ? `Still to enter: ${missing.join(', ')}` : '')
  }
}
