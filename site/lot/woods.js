// Woods to choose from under a species field, as its text is typed. The list is html that only the core made.

import {afterTap, around, h} from '../base/dom.js'

/** @import {Answer} from '../base/types.js' */

const FIELD = '[data-kind="species"] input'

/**
 * `ask(text)` gives the core's answer or null.
 * @param {HTMLElement} root
 * @param {{ask: (text: string) => Promise<Answer<'species'> | null>}} core
 */
export function createWoods(root, {ask}) {
  const list = h('div', {class: 'wood-list', hidden: true})
  /** @type {HTMLInputElement | null} */
  let input = null
  let painted = ''

  async function look() {
    const mine = input
    if (!mine) return
    const text = mine.value
    const answer = await ask(text)
    if (mine !== input || text !== mine.value || !answer?.ok) return
    const settled = answer.species.some(({name}) => name.toLowerCase() === text.trim().toLowerCase())
    list.hidden = settled
    if (painted !== answer.html.species) {
      painted = answer.html.species // what a finger is about to tap stays
      list.innerHTML = painted
    }
    if (!settled) mine.after(list)
  }

  function leave() {
    input = null
    list.hidden = true
    list.remove()
  }

  for (const kind of ['focusin', 'input']) {
    root.addEventListener(kind, (event) => {
      const field = event.target
      if (!(field instanceof HTMLInputElement) || !field.matches(FIELD)) return
      input = field
      look()
    })
  }
  root.addEventListener('focusout', ({target}) =>
    afterTap(() => {
      if (target === input && document.activeElement !== input && !list.contains(document.activeElement)) leave()
    }),
  )
  // A tap on the list must not take the focus from the field first: the list would go before it is tapped.
  list.addEventListener('pointerdown', (event) => event.preventDefault())
  list.addEventListener('click', (event) => {
    const wood = around(event.target, '[data-wood]')
    if (!wood || !input) return
    input.value = wood.dataset.wood ?? ''
    input.dispatchEvent(new Event('input', {bubbles: true}))
    input.focus()
    list.hidden = true
  })
}
