// Elements built from plain values; texts never become markup.

export const $ = (selector, root = document) => root.querySelector(selector)
export const $$ = (selector, root = document) => [...root.querySelectorAll(selector)]

/** h('button', {type: 'button', 'data-do': 'x', onclick: f}, 'text', child, ...) */
export function h(tag, attributes = {}, ...children) {
  const element = document.createElement(tag)
  for (const [name, value] of Object.entries(attributes)) {
    if (value === false || value === null || value === undefined) continue
    if (name.startsWith('on')) element.addEventListener(name.slice(2), value)
    else element.setAttribute(name, value === true ? '' : value)
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

/** Does what makes the page move only once the tap that took the focus is over: nothing moves away from under a finger. */
export function afterTap(act) {
  setTimeout(() => (pressed ? afterTap(act) : act()), 100)
}

/** Puts `text` there only when it differs, so that nothing is announced or painted twice. */
export function say(element, text) {
  if (element.textContent !== text) element.textContent = text
}

/** A text with its fraction drawn as one: "1 3/32" keeps its characters, only smaller where they belong together. */
export function figureParts(text) {
  const found = /^(.*?)(\d+)\/(\d+)(.*)$/.exec(text)
  if (!found) return [text]
  const [, before, above, under, after] = found
  return [before, h('span', {class: 'fraction'}, h('sup', {}, above), '/', h('sub', {}, under)), after].filter(Boolean)
}
