// Elements built from plain values; texts never become markup.

/** @typedef {string | Node | false | null | undefined} Child */
/** @typedef {(event: Event) => unknown} Listener */
/**
 * @typedef {string | number | boolean | null | undefined} Value
 * @typedef {{[on: `on${string}`]: Listener} & {[name: string]: Value | Listener}} Attributes
 */

/**
 * The first element of a kind that a selector finds, or null.
 * @template {Element} [T=HTMLElement]
 * @param {string} selector
 * @param {ParentNode} [root]
 * @param {new () => T} [kind]
 * @returns {T | null}
 */
export function seek(selector, root = document, kind) {
  const found = root.querySelector(selector)
  return found instanceof (kind ?? HTMLElement) ? /** @type {T} */ (found) : null
}

/**
 * The same, where the page is broken without it.
 * @template {Element} [T=HTMLElement]
 * @param {string} selector
 * @param {ParentNode} [root]
 * @param {new () => T} [kind]
 * @returns {T}
 */
export function $(selector, root = document, kind) {
  const found = seek(selector, root, kind)
  if (!found) throw new Error(`The page has no ${selector}`)
  return found
}

/**
 * All of that kind.
 * @template {Element} [T=HTMLElement]
 * @param {string} selector
 * @param {ParentNode} [root]
 * @param {new () => T} [kind]
 * @returns {T[]}
 */
export function $$(selector, root = document, kind) {
  const all = [...root.querySelectorAll(selector)]
  return /** @type {T[]} */ (all.filter((one) => one instanceof (kind ?? HTMLElement)))
}

/**
 * The nearest element of a kind at or around an event's target, or around an element, that a selector fits.
 * @template {Element} [T=HTMLElement]
 * @param {EventTarget | null} target
 * @param {string} selector
 * @param {new () => T} [kind]
 * @returns {T | null}
 */
export function around(target, selector, kind) {
  const found = target instanceof Element ? target.closest(selector) : null
  return found instanceof (kind ?? HTMLElement) ? /** @type {T} */ (found) : null
}

/** A text in which no line breaks a number like 1 3/32. @param {string} text */
const unbroken = (text) => text.replace(/(\d) (?=\d+\/\d)/g, '$1\u00a0')

/**
 * h('button', {type: 'button', 'data-do': 'x', onclick: f}, 'text', child, ...)
 * @template {keyof HTMLElementTagNameMap} K
 * @param {K} tag
 * @param {Attributes} [attributes]
 * @param {...(Child | Child[])} children
 */
export function h(tag, attributes = {}, ...children) {
  const element = document.createElement(tag)
  for (const [name, value] of Object.entries(attributes)) {
    if (value === false || value === null || value === undefined) continue
    if (typeof value === 'function') element.addEventListener(name.slice(2), value)
    else element.setAttribute(name, value === true ? '' : String(value))
  }
  for (const child of children.flat())
    if (child !== null && child !== undefined && child !== false)
      element.append(typeof child === 'string' ? unbroken(child) : child)
  return element
}

let pressed = false
document.addEventListener(
  'pointerdown',
  () => {
    pressed = true
  },
  true,
)
for (const over of ['pointerup', 'pointercancel'])
  document.addEventListener(
    over,
    () =>
      setTimeout(() => {
        pressed = false
      }, 50),
    true,
  )

/**
 * Does what makes the page move only once the tap that took the focus is over: nothing moves away from under a finger.
 * @param {() => void} act
 */
export function afterTap(act) {
  setTimeout(() => (pressed ? afterTap(act) : act()), 100)
}

/**
 * Puts `text` there only when it differs, so that nothing is announced or painted twice.
 * @param {Element} element
 * @param {string} text
 */
export function say(element, text) {
  const shown = unbroken(text)
  if (element.textContent !== shown) element.textContent = shown
}

/**
 * A text that, entered in the field, settles what is asked about it, as a key says it; or the texts of two fields
 * are to change places.
 * @typedef {{text: string, label: string, swaps?: boolean}} Cure
 */
/** @param {string} text @param {string} [label] @returns {Cure} */
export const asCure = (text, label = `${text}?`) => ({text, label})

/** @type {WeakMap<Element, Cure[]>} */
const cures = new WeakMap()

/**
 * Says what is wrong with a field, and beside it, as buttons, what settles it.
 * @param {Element} element
 * @param {string} text
 * @param {Cure[]} [settle]
 */
export function sayProblem(element, text, settle = []) {
  say(element, text)
  const had = curesOf(element)
  if (JSON.stringify(had) === JSON.stringify(settle)) return
  cures.set(element, settle)
  if (had.length) element.nextElementSibling?.remove()
  if (!settle.length) return
  const buttons = settle.map((cure, n) => h('button', {type: 'button', 'data-cure': n}, figureParts(cure.label)))
  element.after(h('div', {class: 'cures'}, buttons))
}

let problemsNamed = 0
/**
 * That a field is in error, and where that is said, is told to whoever does not see it.
 * @param {HTMLElement} input
 * @param {HTMLElement} problem
 * @param {boolean} wrong
 */
export function markWrong(input, problem, wrong) {
  problem.id ||= `problem-${++problemsNamed}`
  input.setAttribute('aria-invalid', String(wrong))
  input.setAttribute('aria-describedby', problem.id)
}

/** @param {Element} element */
export const curesOf = (element) => cures.get(element) ?? []

/**
 * A text with its fraction stacked, on one line with the whole number before it; read, heard or copied it is the same
 * text, and a mixed number is one piece of it.
 * @param {string} text
 */
export function figureParts(text) {
  const found = /^(.*?)(\d+(?:,\d{3})* )?(\d+)\/(\d+)(.*)$/.exec(text)
  if (!found) return [text]
  const [, before, whole = '', above, below, after] = found
  const drawn = h(
    'span',
    {class: 'fraction', 'data-above': above, 'data-below': below},
    h('span', {}, document.createTextNode(`${whole}${above}/${below}`)),
  )
  return [before, whole ? h('span', {class: 'mixed', 'data-whole': whole.trim()}, drawn) : drawn, after].filter(
    (part) => part,
  )
}
