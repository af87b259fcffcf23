import { screenToPlan } from '../../core/geometry';
import { ITEM_MAPS } from '../../core/plan';
import type { FileKind } from '../../host/contract';
import { freeId } from '../tools/arrange';
import { say, useDesk } from './desk';
import { edit } from './edit';
import { host } from './host';
import { choose } from './selection';
import { useView } from './view';

const PICTURE_KIND: FileKind = { label: 'Picture', extensions: ['png', 'jpg', 'jpeg'] };
/** What a plan may carry of one picture, bytes; larger ones are made coarser by the designer. */
const MOST_BYTES = 20_000_000;

function asDataUri(bytes: Uint8Array, type: string): Promise<string> {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(String(reader.result));
    reader.onerror = () => reject(reader.error);
    reader.readAsDataURL(new Blob([bytes.slice()], { type }));
  });
}

/** Brings in a picture under the plan, filling the view until its scale is set. */
export async function chooseUnderlay(): Promise<void> {
  const answer = await host.open([PICTURE_KIND]);
  if (answer.kind === 'refused') say('The picture could not be read.', 'stop', answer.detail);
  if (answer.kind !== 'done') return;
  const { bytes, name } = answer.value;
  if (bytes.length > MOST_BYTES) {
    say('The picture is too large to keep in the plan.', 'stop', 'Save it under 20 MB first.');
    return;
  }
  const isPng = bytes[0] === 0x89 && bytes[1] === 0x50;
  const isJpeg = bytes[0] === 0xff && bytes[1] === 0xd8;
  if (!isPng && !isJpeg) {
    say('This is neither a PNG nor a JPEG picture.', 'stop', 'Save it as one of them first.');
    return;
  }
  const dataUri = await asDataUri(bytes, isPng ? 'image/png' : 'image/jpeg');
  const bitmap = await createImageBitmap(new Blob([bytes.slice()]));
  const { view, widthPx, heightPx } = useView.getState();
  const metresPerPixel = (0.8 * widthPx) / view.pixelsPerM / bitmap.width;
  const corner = screenToPlan({ x: widthPx * 0.1, y: heightPx * 0.9 }, view);
  const id = freeId(useDesk.getState().history.plan, ITEM_MAPS, 'underlay', new Set());
  const item = {
    id,
    name,
    kind: 'picture',
    dataUri,
    lines: [],
    originX: corner.x,
    originY: corner.y,
    metresPerPixel,
    turnRad: 0,
    fadeRatio: 0.4,
    locked: true,
    widthPx: bitmap.width,
    heightPx: bitmap.height,
  };
  bitmap.close();
  if (edit({ name: 'put-item', params: { map: 'underlays', item } })) choose([{ map: 'underlays', id }]);
}
