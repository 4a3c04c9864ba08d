/** A way of holding as a job would ask for it. */
import { toDeg } from '../../base/units.ts';
import { angleOf } from '../../geometry/measure/point.ts';
import type { HoldRequest, Job, TabRequest } from '../../part/part.ts';
import type { HoldWay, TabsWay } from '../way.ts';

export function requestFor(job: Job, way: HoldWay): HoldRequest {
  const tabs = way.tabs && tabRequest(way.tabs);
  if (way.screws) return { by: 'screws', through: way.screws.holes, thread: way.screws.thread, tabs };
  if (way.glue) return { by: 'glue', ...way.glue };
  if (way.stub) {
    const { place, width } = way.stub;
    return { by: 'stub', at: place.at, directionDeg: toDeg(angleOf(place.normal)), width };
  }
  if (tabs) return { by: 'tabs', tabs };
  // A plate that is thicker than the part leaves its floor whatever else is asked.
  return job.stock.below > 0 ? { by: 'auto' } : { by: 'floor', thickness: way.floor };
}

function tabRequest({ width, cutHeight, height, places }: TabsWay): TabRequest {
  const lightenTo = height < cutHeight ? height : null;
  return { count: null, width, height: cutHeight, lightenTo, at: places.map((p) => p.at) };
}
