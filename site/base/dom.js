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
  element.append(...children.flat().filter((child) => child !== null && child !== undefined && child !== false))
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
  if (element.textContent !== text) element.textContent = text
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

/** @param {Element} element */
export const curesOf = (element) => cures.get(element) ?? []

/**
 * A text with its fraction stacked, on one line with the whole number before it; read, heard or copied it is the same text.
 * @param {string} text
 */
export function figureParts(text) {
  const found = /^(.*?)(\d[\d,]* )?(\d+)\/(\d+)(.*)$/.exec(text)
  if (!found) return [text]
  const [, before, whole, above, below, after] = found
  const drawn = h(
    'span',
    {class: 'fraction', 'data-above': above, 'data-below': below},
    h('span', {}, `${above}/${below}`),
  )
  return [before, whole ? h('span', {class: 'mixed'}, whole, drawn) : drawn, after].filter((part) => part)
}
