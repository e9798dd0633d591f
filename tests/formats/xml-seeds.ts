import { strToU8, zipSync } from 'fflate';
import type { FileBytes } from '../../src/formats/file-bytes.ts';
import { textFile } from './small-files.ts';

type Position = readonly [lon: number, lat: number];

/** A square of 0.01 degrees, the first corner repeated, counter-clockwise. */
export const SQUARE: readonly Position[] = [
  [-93.5, 42],
  [-93.49, 42],
  [-93.49, 42.01],
  [-93.5, 42.01],
  [-93.5, 42],
];
export const HOLE: readonly Position[] = [
  [-93.497, 42.003],
  [-93.497, 42.006],
  [-93.494, 42.006],
  [-93.494, 42.003],
  [-93.497, 42.003],
];

/** A KML document of the given content of its Document element. */
export function kmlFile(content: string, name = 'a.kml'): FileBytes {
  return textFile(
    `<?xml version="1.0" encoding="UTF-8"?>\n<kml xmlns="http://www.opengis.net/kml/2.2">\n<Document>\n${content}\n</Document>\n</kml>\n`,
    name,
  );
}

const tuples = (ring: readonly Position[]) => ring.map(([lon, lat]) => `${lon},${lat}`).join(' ');

export function kmlPolygon(outer: readonly Position[], ...holes: readonly (readonly Position[])[]): string {
  const boundary = (name: string, ring: readonly Position[]) =>
    `<${name}><LinearRing><coordinates>${tuples(ring)}</coordinates></LinearRing></${name}>`;
  return `<Polygon>${boundary('outerBoundaryIs', outer)}${holes.map((hole) => boundary('innerBoundaryIs', hole)).join('')}</Polygon>`;
}

export function kmlPoint(coordinates: string): string {
  return `<Point><coordinates>${coordinates}</coordinates></Point>`;
}

export function placemark(...parts: readonly string[]): string {
  return `<Placemark>${parts.join('')}</Placemark>`;
}

/** Polygons and points with every kind of attribute: a seed for mutations. */
export function kmlSeed(): FileBytes {
  return kmlFile(
    [
      '<Schema name="s" id="s"><SimpleField type="double" name="YIELD"/><SimpleField type="string" name="CODE"/></Schema>',
      placemark(
        '<name>North</name><description><![CDATA[<b>80</b> acres]]></description>',
        '<ExtendedData><SchemaData schemaUrl="#s"><SimpleData name="YIELD">182.5</SimpleData><SimpleData name="CODE">007</SimpleData></SchemaData></ExtendedData>',
        `<MultiGeometry>${kmlPolygon(SQUARE, HOLE)}</MultiGeometry>`,
      ),
      placemark('<name>Gate &amp; well</name>', kmlPoint('-93.5,42,310')),
      placemark(
        '<ExtendedData><Data name="depth"><value>1.5</value></Data></ExtendedData>',
        kmlPoint('-93.4, 42.1'),
      ),
      placemark('<LineString><coordinates>-93.5,42 -93.4,42</coordinates></LineString>'),
    ].join('\n'),
  );
}

export function kmzSeed(): FileBytes {
  return {
    name: 'a.kmz',
    bytes: zipSync({ 'doc.kml': kmlSeed().bytes, 'files/icon.png': strToU8('\x89PNG') }),
  };
}

const linePoints = (ring: readonly Position[]) =>
  ring.map(([lon, lat]) => `<PNT A="2" C="${lat}" D="${lon}"/>`).join('');

/** A polygon element of the task file: lines of the given types (1 exterior, 2 interior). */
export function isoPolygon(
  type: number | string,
  ...lines: readonly (readonly [type: number, ring: readonly Position[]])[]
): string {
  return `<PLN A="${type}">${lines.map(([kind, ring]) => `<LSG A="${kind}">${linePoints(ring)}</LSG>`).join('')}</PLN>`;
}

export const FIELD = `<PFD A="PFD1" C="North 80" D="837362">${isoPolygon(1, [1, SQUARE], [2, HOLE])}</PFD>`;

/** TASKDATA.XML of the given elements below its root. */
export function taskFile(content: string, name = 'TASKDATA.XML'): FileBytes {
  return textFile(
    `<?xml version="1.0" encoding="UTF-8"?>\n<ISO11783_TaskData VersionMajor="4" VersionMinor="3" DataTransferOrigin="1">\n${content}\n</ISO11783_TaskData>\n`,
    name,
  );
}

export const PRODUCTS = '<PDT A="PDT1" B="Heron"/><PDT A="PDT2" B="Kestrel"/>';
const ZONES = `<TZN A="0" B="Outside"><PDV A="000B" B="0"/></TZN>
<TZN A="1" B="Low"><PDV A="000B" B="6919" C="PDT1"/></TZN>
<TZN A="2" B="High"><PDV A="000B" B="8896" C="PDT2"/></TZN>`;
const GRID = 'A="42" B="-93.5" C="0.005" D="0.0025" E="3" F="2" G="GRD00001"';

/** Two rows of three cells; the southern row is zones 0 1 2, the northern 2 1 0. */
export function typeOneTask(grid = `${GRID} H="6" I="1"`, zones = ZONES): string {
  return `<TSK A="TSK1" B="Corn" G="1" H="1" I="1" J="0">${zones}\n<GRD ${grid}/></TSK>`;
}

export function typeOneSeed(): FileBytes[] {
  return [taskFile(`${PRODUCTS}${FIELD}${typeOneTask()}`), gridFile(Uint8Array.of(0, 1, 2, 2, 1, 0))];
}

/** Two values a cell: the cell's index in thousands for the first product, 7 for the second. */
export function typeTwoTask(grid = `${GRID} H="48" I="2" J="1"`): string {
  return `<TSK A="TSK1" G="1"><TZN A="1"><PDV A="000B" B="0" C="PDT1"/><PDV A="0006" B="0" C="PDT2"/></TZN><GRD ${grid}/></TSK>`;
}

export function typeTwoSeed(): FileBytes[] {
  const values = Array.from({ length: 6 }, (_, cell) => [cell * 1000, 700]).flat();
  return [taskFile(`${PRODUCTS}${FIELD}${typeTwoTask()}`), gridFile(int32(values))];
}

/** Zones drawn as polygons. */
export function drawnZonesSeed(): FileBytes[] {
  const zones = `<TZN A="0" B="Outside"><PDV A="000B" B="0"/></TZN>
<TZN A="1" B="Low"><PDV A="000B" B="6919" C="PDT1"/>${isoPolygon(2, [1, SQUARE], [2, HOLE])}</TZN>
<TZN A="2" B="High"><PDV A="000B" B="8896" C="PDT2"/>${isoPolygon(2, [1, HOLE])}</TZN>`;
  return [taskFile(`${PRODUCTS}<TSK A="TSK1" G="1">${zones}</TSK>`)];
}

export function gridFile(bytes: Uint8Array, name = 'GRD00001.bin'): FileBytes {
  return { name, bytes };
}

/** Whole numbers of 32 bits, low byte first. */
export function int32(values: readonly number[]): Uint8Array {
  const view = new DataView(new ArrayBuffer(values.length * 4));
  values.forEach((value, i) => {
    view.setInt32(4 * i, value, true);
  });
  return new Uint8Array(view.buffer);
}

/** Everything in one archive, in a folder of the name such archives have. */
export function taskZip(files: readonly FileBytes[], folder = 'TASKDATA/', name = 'task.zip'): FileBytes {
  return {
    name,
    bytes: zipSync(Object.fromEntries(files.map((file) => [`${folder}${file.name}`, file.bytes]))),
  };
}
