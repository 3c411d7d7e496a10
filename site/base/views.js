// Which part of the page is in view. On a wide screen the plan stands beside the others.

import {$, $$} from './dom.js'

export function createViews(root, {onGo}) {
  const spots = new Map()
  root.addEventListener('click', (event) => {
    const button = event.target.closest('[data-go]')
    if (!button) return
    onGo(button.dataset.go)
    const part = button.dataset.unfold && $(`#${button.dataset.unfold}`)
    if (!part) return
    part.closest('details').open = true
    part.scrollIntoView()
  })
  return {
    show(view) {
      const html = document.documentElement
      if (html.dataset.view !== view) {
        spots.set(html.dataset.view, window.scrollY)
        html.dataset.view = view
        window.scrollTo(0, spots.get(view) ?? 0)
      }
      for (const button of $$('[data-go]', root)) {
        if (button.dataset.go === view) button.setAttribute('aria-current', 'page')
        else button.removeAttribute('aria-current')
      }
    },
    /** A part that has nothing to show yet has no button. */
    offer(view, offered) {
      const button = $(`#nav [data-go="${view}"]`)
      if (button) button.hidden = !offered
    },
  }
}
