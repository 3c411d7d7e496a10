// A form of its own beside the plan, that belongs to no job: will this board make it, what to buy.

import {$, $$, h, say} from '../base/dom.js'
import {field} from './question_field.js'

/** @import {Answer, Question, Settings} from '../base/types.js' */
/** @typedef {'slab' | 'buy'} FormName */

/**
 * A field of a form: what an empty one stands for, and the title of the group that it stands in, where it has any.
 * @typedef {[part: string, label: string, placeholder?: string, group?: string]} Entry
 */
/** `key`: what the core is given. @typedef {{key: string, entries: Entry[], hints: string[]}} Form */
/** @type {Record<'slab' | 'buy', Form>} */
export const FORMS = {
  slab: {
    key: 'board',
    entries: [
      ['length', 'Length'],
      ['width', 'Width'],
      ...[
        ['end_1', 'End 1'],
        ['middle', 'Middle'],
        ['end_2', 'End 2'],
      ].flatMap(
        ([key, where]) =>
          /** @type {Entry[]} */ ([
            [`${key}_left`, `${where}, left`, 'same', 'Thickness'],
            [key, `${where}, center`, '', 'Thickness'],
            [`${key}_right`, `${where}, right`, 'same', 'Thickness'],
          ]),
      ),
      ['cup', 'Cup', '0'],
      ['bow', 'Bow', '0'],
      ['twist', 'Twist', '0'],
      ['part_thickness', 'Part, thickness'],
      ['part_length', 'Part, length', 'whole'],
      ['part_width', 'Part, width', 'whole'],
    ],
    hints: [
      'Left and right: as you stand at end 1 and look along the board. Thickness in the center, and at the edges where it differs.',
      'Cup: straightedge across the upper face, the gap at its worst. With a minus where that face is hollow, plain where it is humped.',
      'Bow: the same along the board.',
      'Twist: winding sticks across both ends of the upper face. How much higher the right end of the far stick stands; with a minus where it is lower.',
    ],
  },
  buy: {
    key: 'need',
    entries: [
      ['thickness', 'Finished thickness'],
      ['jointing', 'Off by jointing'],
      ['planing', 'Off by planing'],
      ['width', 'Width of a part', ''],
      ['length', 'Length of a part', ''],
      ['count', 'Parts', '1'],
      ['waste', 'Waste, per cent', '20'],
      ['rate', 'Price'],
    ],
    hints: [
      'Left empty: 3/32 in or 2.4 mm comes off by jointing, the same by planing. The price is for a board foot, in mm for a cubic meter.',
    ],
  },
}

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
  #form
  /** The question whose answer is on the page. @type {Record<string, unknown> | undefined} */
  asked

  /** @param {FormName} name @param {Handlers} handlers */
  constructor(name, handlers) {
    this.#name = name
    this.#handlers = handlers
    this.#form = FORMS[name]
    this.root = h(
      'div',
      {'data-form': name},
      ...this.#form.hints.map((line) => h('p', {class: 'hint'}, line)),
      ...this.#grid(),
    )
  }

  /** Asked once more, with the texts as they were kept. */
  again() {
    for (const [part] of this.#form.entries) this.#input(part).value = this.#kept()[part] ?? ''
    this.#ask()
  }

  #kept() {
    return this.#handlers.forms()[this.#name] ?? {}
  }

  /** @param {string} part */
  #input(part) {
    return $(`#${this.#name}-${part}`, this.root, HTMLInputElement)
  }

  /** The fields in pairs, those of a group under its title. */
  #grid() {
    const {entries} = this.#form
    const title = entries.find((entry) => entry[3])?.[3]
    if (!title) return [this.#pair(entries)]
    const from = entries.findIndex((entry) => entry[3])
    const to = entries.findLastIndex((entry) => entry[3]) + 1
    const group = h(
      'div',
      {role: 'group', 'aria-label': title},
      h('h4', {}, title),
      h('div', {class: 'pair three'}, this.#fields(entries.slice(from, to))),
    )
    return [this.#pair(entries.slice(0, from)), group, this.#pair(entries.slice(to))]
  }

  /** @param {Entry[]} entries */
  #pair(entries) {
    return h('div', {class: 'pair'}, this.#fields(entries))
  }

  /** @param {Entry[]} entries */
  #fields(entries) {
    return entries.map(([part, label, placeholder]) => {
      const id = `${this.#name}-${part}`
      const input = h('input', {
        id,
        autocomplete: 'off',
        spellcheck: 'false',
        placeholder: placeholder ?? null,
        oninput: () => this.#ask(),
      })
      return field(label, id, {'data-form': `${this.#form.key}.${part}`}, input)
    })
  }

  #texts() {
    const all = this.#form.entries.map(([part]) => [part, this.#input(part).value.trim()])
    return Object.fromEntries(all.filter(([, text]) => text))
  }

  async #ask() {
    const [name, {key}] = [this.#name, this.#form]
    const given = this.#texts()
    if (JSON.stringify(given) !== JSON.stringify(this.#kept())) this.#handlers.onForm(name, given)
    if (!Object.keys(given).length) return this.#handlers.paint('')
    const said = await this.#handlers.onAsk(name, {ask: name, [key]: given})
    if (!said) return
    this.asked = {form: name, [key]: given}
    const missing = this.#tell(new Map(said.ok ? [] : said.problems.map(({at, text}) => [at, text])))
    this.#handlers.paint(said.html?.[name] ?? '', missing.length ? `Still to enter: ${missing.join(', ')}` : '')
  }

  /** Problems beside their fields; the labels of those that are empty still. @param {Map<string, string>} problems */
  #tell(problems) {
    const missing = []
    for (const place of $$('.field', this.root)) {
      const text = problems.get(place.dataset.form ?? '') ?? ''
      const empty = $('input', place, HTMLInputElement).value.trim() === ''
      say($('.problem', place), empty ? '' : text)
      if (text && empty) missing.push($('label', place).textContent)
    }
    return missing
  }
}
