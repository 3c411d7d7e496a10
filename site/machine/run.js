// At the machine: the core's screen for the next thing to do. Its buttons carry the events that they add to the run.

import {$, $$, say} from '../base/dom.js'

const WAITING = 'There is no plan yet: enter the lot first.'
/** The way back where the core has no screen for a run. */
const UNDO = '<div class="run-foot"><button type="button" data-undo>Undo the last entry</button></div>'

/**
 * `onEvent(event)`: this was done or seen. `onMeasured(event)`: this was measured; resolves to the problems of its texts, to none when it was
 * taken, to null when something else came between. `onTold()`: its problems stand at its fields. `onUndo()`: the last of them was not.
 * `runNow()`: the run as it is.
 */
export function createRun(root, {onEvent, onMeasured, onTold, onUndo, runNow}) {
  const slot = $('#at-machine', root)
  /** The run that the screen answers to. A tap on a screen that the run has left behind, as the second of a double tap, does nothing. */
  let shownOf = null
  let ahead = false
  const now = () => JSON.stringify(runNow())
  let lock = null
  let wanted = false

  root.addEventListener('click', ({target}) => {
    const button = target.closest('button')
    if (!button || button.disabled) return
    const fresh = now() === shownOf
    if ('undo' in button.dataset) {
      if (fresh || ahead) onUndo()
      ahead = false
    } else if (fresh && button.dataset.event) {
      ahead = true
      onEvent(JSON.parse(button.dataset.event))
    } else if ('add' in button.dataset) add(button.closest('[data-measure]'))
  })

  /** All readings of a measurement are in: it becomes an event, unless one of them cannot be read. */
  async function add(measure) {
    if (now() !== shownOf) return
    const event = JSON.parse(measure.dataset.measure)
    const inputs = {}
    for (const input of $$('[data-key]', measure)) {
      const text = input.value.trim()
      const problem = input.closest('.field') && $('.problem', input.closest('.field'))
      if (problem) say(problem, text ? '' : 'Nothing is entered. Enter what was measured.')
      if (!text) return input.focus()
      if (input.dataset.key === 'readings') {
        event.readings = [...(event.readings ?? []), text]
        inputs[`event.readings[${event.readings.length - 1}]`] = input
      } else {
        event[input.dataset.key] = text
        inputs[`event.${input.dataset.key}`] = input
      }
    }
    const problems = await onMeasured(event)
    if (!problems?.length) return problems && measure.contains(document.activeElement) && document.activeElement.blur()
    for (const {at, text, about} of problems) {
      const problem = inputs[at]?.closest('.field') && $('.problem', inputs[at].closest('.field'))
      const short = about ? text.slice(about.length + 2) : text
      if (problem) say(problem, short.charAt(0).toUpperCase() + short.slice(1))
    }
    inputs[problems[0].at]?.focus()
    onTold()
  }

  // What was said of a text is not true of another.
  slot.addEventListener('input', ({target}) => {
    const field = target.closest('.field')
    if (field) say($('.problem', field), '')
  })

  /** The screen stays awake at the machine where the browser can; where it cannot, nothing is said. */
  async function stayAwake() {
    if (!wanted || lock || document.visibilityState !== 'visible') return
    try {
      lock = await navigator.wakeLock.request('screen')
      lock.addEventListener('release', () => {
        lock = null
      })
      if (!wanted) lock.release()
    } catch {
      lock = null
    }
  }
  document.addEventListener('visibilitychange', stayAwake)

  /** Where the boards to feed stand on the screen, and of which pass they are; `said` is what came up above them. */
  function place() {
    const feeding = $('.feeding', slot)
    return (
      feeding && {
        pass: $('.run-head', slot)?.textContent,
        said: $('.said', slot)?.textContent,
        top: feeding.getBoundingClientRect().top,
      }
    )
  }

  /** Boards of one pass are ticked off without the screen moving under the finger; whatever is new is read from its top. */
  function keep(before, after) {
    const same = before && after && before.pass === after.pass && (!after.said || before.said === after.said)
    if (same) window.scrollBy(0, after.top - before.top)
    else window.scrollTo(0, 0)
  }

  /** Whoever works without a pointer goes on at the top of the screen that came, and hears it. */
  function toHeading() {
    const heading = $('h2', slot)
    if (!heading) return
    heading.tabIndex = -1
    heading.focus({preventScroll: true})
  }

  return {
    /** Enter in a reading: on to the next one of the same measurement, else it is complete. */
    entered(input) {
      const measure = input.closest('[data-measure]')
      const next = $$('input[data-key]', measure).find((other) => other !== input && !other.value.trim())
      if (next) next.focus()
      else add(measure)
    },
    /** `current`: it is the screen of the run as it is now. */
    paint(html, problems = [], current = true) {
      shownOf = current ? now() : null
      ahead = false
      const wayBack = problems.length && runNow().length ? UNDO : ''
      const shown = html || `<p class="hint">${WAITING}</p>${wayBack}`
      if (slot.dataset.painted === shown) return
      const begun = 'painted' in slot.dataset
      slot.dataset.painted = shown
      const before = place()
      const focused = slot.contains(document.activeElement)
      slot.innerHTML = shown
      // Never to a button: the Enter of a caliper that types would press it.
      if (focused) toHeading()
      if (begun && wanted) keep(before, place())
      if (problems.length) say($('.hint', slot) ?? slot, problems.map(({text}) => text).join(' '))
    },
    show(visible) {
      wanted = visible
      if (visible) stayAwake()
      else lock?.release()
    },
  }
}
