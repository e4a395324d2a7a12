"""A code on one phone's screen as another phone's camera has it: read from a picture of the whole screen."""

from __future__ import annotations

import base64

import numpy as np
import zxingcpp
from playwright.sync_api import Page

# The picture's greys, by whatever blank page there is.
GREYS = """async (png) => {
  const bytes = Uint8Array.from(atob(png), (letter) => letter.charCodeAt(0));
  const image = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
  const pen = new OffscreenCanvas(image.width, image.height).getContext("2d");
  pen.drawImage(image, 0, 0);
  const { data } = pen.getImageData(0, 0, image.width, image.height);
  let greys = "";
  for (let i = 0; i < data.length; i += 4) greys += String.fromCharCode((data[i] + data[i + 1] + data[i + 2]) / 3);
  return [image.width, image.height, btoa(greys)];
}"""


def read_code(screen: Page, camera: Page) -> str:
    """What the one code on SCREEN says."""
    png = base64.b64encode(screen.screenshot()).decode()
    width, height, greys = camera.evaluate(GREYS, png)
    grey = np.frombuffer(base64.b64decode(greys), dtype=np.uint8).reshape(height, width)
    [code] = zxingcpp.read_barcodes(grey)
    return str(code.text)
