"""What is seen of colors on the page, for its tests."""

from __future__ import annotations

COLORS = """
  const canvas = document.createElement('canvas').getContext('2d', {willReadFrequently: true})
  const rgb = (color) => { canvas.clearRect(0, 0, 1, 1); canvas.fillStyle = color; canvas.fillRect(0, 0, 1, 1); return [...canvas.getImageData(0, 0, 1, 1).data] }
  const light = ([r, g, b]) => [r, g, b].map((v) => v / 255).map((v) => v <= 0.03928 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)
    .reduce((sum, v, n) => sum + v * [0.2126, 0.7152, 0.0722][n], 0)
  const ground = (element) => {
    for (let at = element; at; at = at.parentElement) {
      const color = rgb(getComputedStyle(at).backgroundColor)
      if (color[3] === 255) return color
    }
    return rgb('Canvas')
  }
"""
"""Steps of a script: `rgb(color)`, its `light`, and the `ground` that an element stands on."""
