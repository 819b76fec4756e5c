import { crc32, deflateSync } from 'node:zlib';

const size = 160;

interface PictureSize {
  readonly width: number;
  readonly height: number;
}

function chunk(name: string, data: Uint8Array): Buffer {
  const body = Buffer.concat([Buffer.from(name, 'latin1'), data]);
  const head = Buffer.alloc(4);
  head.writeUInt32BE(data.length);
  const tail = Buffer.alloc(4);
  tail.writeUInt32BE(crc32(body));
  return Buffer.concat([head, body, tail]);
}

/** A picture of grey values from 0 to 255 as a PNG file (ISO/IEC 15948). */
export function greyPng(
  valueAt: (x: number, y: number) => number,
  { width, height }: PictureSize = { width: size, height: size },
): Uint8Array {
  const rows = Buffer.alloc((width + 1) * height);
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      rows[y * (width + 1) + 1 + x] = Math.max(0, Math.min(255, Math.round(valueAt(x, y))));
    }
  }
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header.set([8, 0, 0, 0, 0], 8);
  const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  return Buffer.concat([
    signature,
    chunk('IHDR', header),
    chunk('IDAT', deflateSync(rows, { level: 9 })),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

/** What a photograph of a strike shows. */
export interface StrikePicture {
  readonly face: 'obverse' | 'reverse' | 'edge';
  /** Strike number: wear dulls the relief a little. */
  readonly strikeNumber: number;
  /** Whether a crack of the die runs over the field. */
  readonly cracked: boolean;
}

/** A drawn stand-in for a photograph of one face: rings and reeds, no picture of any real piece. */
export function strikePhotograph(picture: StrikePicture): Uint8Array {
  const middle = size / 2;
  const sharpness = 46 * Math.exp(-picture.strikeNumber / 6000);
  const reeds = picture.face === 'reverse' ? 9 : 5;
  return greyPng((x, y) => {
    const dx = x - middle;
    const dy = y - middle;
    if (picture.face === 'edge') {
      return Math.abs(dy) > 12 ? 18 : 120 + sharpness * Math.sign(Math.sin(x / 2.2));
    }
    const radius = Math.hypot(dx, dy);
    if (radius > 72) return 18;
    const rim = radius > 66 ? 52 : 0;
    const relief = radius < 52 ? sharpness * Math.sin(reeds * Math.atan2(dy, dx) + radius / 9) : 0;
    const crack =
      picture.cracked && Math.abs(dx - 8 - 6 * Math.sin(y / 7)) < 1.4 && dy < 6 ? 90 : 0;
    return 136 + rim + relief + crack - dy / 4;
  });
}
