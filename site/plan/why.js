// The sheet that says why a number of the plan is what it is. Its words are html that only the core made.

import {$, around, say} from '../base/dom.js'

/** @import {Answer} from '../base/types.js' */

const SLOW = 300
/** @type {Partial<Record<string, string>>} */
const WAITING = {ready: 'Being worked out …', loading: 'Answered as soon as the planner is ready …'}

/**
 * `ask(what)` gives the core's answer or null; a tap on an element with `data-why` opens the sheet.
 * @param {HTMLDialogElement} sheet
 * @param {HTMLElement} root
 * @param {{ask: (what: string) => Promise<Answer<'why'> | null>}} handlers
 */
export function createWhy(sheet, root, {ask}) {
  const head = $('h2', sheet)
  const body = $('.pane-body', sheet)
  let current = 0
  /** @type {HTMLElement | SVGElement | null} */
  let from = null

  /** @param {HTMLElement | SVGElement} button */
  async function open(button) {
    const mine = ++current
    from = button
    say(head, button.getAttribute('aria-label') ?? (button.textContent ?? '').trim())
    body.replaceChildren()
    body.scrollTop = 0
    if (!sheet.open) sheet.showModal()
    const later = setTimeout(() => {
      if (mine === current)
        say(
          body,
          WAITING[document.documentElement.dataset.engine ?? ''] ?? 'The planner did not start, so it cannot say why.',
        )
    }, SLOW)
    const answer = await ask(button.dataset.why ?? '')
    clearTimeout(later)
    if (mine !== current || !sheet.open) return
    if (answer?.ok) body.innerHTML = answer.html.why
    else say(body, answer?.problems[0]?.text ?? 'The plan has changed. Close this and ask again.')
  }

  root.addEventListener('click', (event) => {
    const button = around(event.target, '[data-why]') ?? around(event.target, '[data-why]', SVGElement)
    if (button) open(button)
  })
  sheet.addEventListener('click', (event) => {
    if (event.target === sheet || around(event.target, '[data-close]')) sheet.close()
  })
  sheet.addEventListener('close', () => {
    current += 1
    from?.focus({preventScroll: true})
  })
}
