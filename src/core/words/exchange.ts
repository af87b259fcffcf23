import { figure, type Sentences, text } from './types';

const ONE_PAGE = 'Save the one page that you need by itself first.';

const SHEET_BLOCKED =
  'The rest is designed; the sheet stays marked "not for construction" until this is mended.';

/** What a person reads of a file coming in. */
export const exchangeSentences: Sentences = {
  'exchange.not-a-feature-collection': (params) => ({
    what: text(params, 'type')
      ? `The file is of type "${text(params, 'type')}", not a GeoJSON FeatureCollection.`
      : 'The file is JSON, but neither a plan nor a GeoJSON FeatureCollection.',
    why: 'Beds come as features of a collection; nothing else can be told apart from them safely.',
    next: 'Export the site as a GeoJSON FeatureCollection, or open a plan of this program.',
  }),
  'exchange.too-many-features': (params) => ({
    what: `The file holds more than ${figure(params, 'count')} features.`,
    why: 'That is far beyond one planting site.',
    next: 'Cut the export to the site, or split it into several files.',
  }),
  'exchange.unknown-frame': (params) => ({
    what: `"${text(params, 'frame')}" is not a frame this program knows.`,
    why: 'Coordinates in an unknown frame could be off by any distance.',
    next: 'Use "local-metres", or leave the frame out for WGS84 longitude and latitude.',
  }),
  'exchange.other-reference-system': (params) => ({
    what: `The coordinates are in ${text(params, 'system')}.`,
    why: 'GeoJSON is read as WGS84 longitude and latitude (RFC 7946); another system would put the beds elsewhere.',
    next: 'Export the file again in WGS84, or in metres marked as local metres.',
  }),
  'exchange.bad-georeference': () => ({
    what: 'The stated georeference cannot be used.',
    why: 'It needs a longitude, a latitude within 85 degrees of the equator, and a bearing, all as numbers.',
    next: 'Correct longitudeDeg, latitudeDeg and bearingDeg, or leave the georeference out.',
  }),
  'exchange.spread-too-wide': () => ({
    what: 'The features lie further apart than any one site.',
    why: 'A flat drawing of such a stretch would not be to scale. One stray feature far away is enough.',
    next: 'Remove the stray feature, or split the file by site.',
  }),
  'exchange.off-the-earth': (params) => ({
    what: `${text(params, 'position')} is not a longitude and latitude on the earth.`,
    why: 'Longitude runs from -180 to 180 degrees, latitude here from -85 to 85. Larger figures are usually metres or feet.',
    next: `If the file is in metres, add "rillsheet": {"frame": "local-metres"} at its top; else export it in WGS84. ${SHEET_BLOCKED}`,
  }),
  'exchange.off-the-plan': (params) => ({
    what: `${text(params, 'position')} lies more than 1000 km from the plan's origin.`,
    why: 'Figures that large are usually grid coordinates; a plan keeps its origin on the site.',
    next: `Move the drawing to an origin on the site. ${SHEET_BLOCKED}`,
  }),
  'exchange.not-a-feature': () => ({
    what: 'An entry of the collection is not a GeoJSON Feature.',
    why: 'It has no geometry and properties to read.',
    next: `Remove it, or give it "type": "Feature". ${SHEET_BLOCKED}`,
  }),
  'exchange.no-geometry': (params) => ({
    what: `A feature has no usable geometry${text(params, 'type') ? ` (type "${text(params, 'type')}")` : ''}.`,
    why: 'Without coordinates it cannot be drawn.',
    next: `Draw it again, or remove it. ${SHEET_BLOCKED}`,
  }),
  'exchange.geometry-not-taken': (params) => ({
    what: `Geometry of type "${text(params, 'type')}" is not taken.`,
    why: 'Points, lines, polygons and their multiples are.',
    next: `Take the collection apart into single features. ${SHEET_BLOCKED}`,
  }),
  'exchange.bad-position': () => ({
    what: 'A position is not a pair of numbers.',
    why: 'Every corner needs two finite numbers, x and y or longitude and latitude.',
    next: `Correct the position at the path given. ${SHEET_BLOCKED}`,
  }),
  'exchange.line-too-short': () => ({
    what: 'A line has fewer than two points.',
    why: 'It has no length.',
    next: `Draw it again, or remove it. ${SHEET_BLOCKED}`,
  }),
  'exchange.ring-too-short': () => ({
    what: 'An outline has fewer than three corners.',
    why: 'It encloses no ground.',
    next: `Draw it again, or remove it. ${SHEET_BLOCKED}`,
  }),
  'exchange.ring-not-closed': () => ({
    what: 'An outline does not end where it began.',
    why: 'It was closed with a straight edge from its last corner to its first.',
    next: 'Check that edge; close the outline in the file to silence this.',
  }),
  'exchange.too-many-points': (params) => ({
    what: `An outline or line has more than ${figure(params, 'count')} points.`,
    why: 'That is far finer than tubing can follow.',
    next: `Simplify it to a few centimetres and export again. ${SHEET_BLOCKED}`,
  }),
  'exchange.too-many-rings': (params) => ({
    what: `An outline has more than ${figure(params, 'count')} holes.`,
    why: 'No planting bed does.',
    next: `Split the bed, or draw the holes as obstacles. ${SHEET_BLOCKED}`,
  }),
  'exchange.kind-assumed': () => ({
    what: 'An outline without a kind was taken as a bed.',
    why: 'Nothing in the file says what it is.',
    next: 'Give it "kind": "bed", or the kind it is, among its properties.',
  }),
  'exchange.unknown-kind': (params) => ({
    what: `Features of kind "${text(params, 'kind')}" are not known here.`,
    why: 'It is kept and drawn faintly, and tubing pays it no heed.',
    next: 'If tubing must keep off it, give it "kind": "obstacle"; if it is a bed, "kind": "bed".',
  }),
  'exchange.foreign-too-big': (params) => ({
    what: `A feature of unknown kind is longer than ${figure(params, 'count')} characters and was left out.`,
    why: 'It would swell the plan without being used.',
    next: 'Simplify it, or leave it out of the export.',
  }),
  'exchange.result-left-out': (params) => ({
    what: `A computed "${text(params, 'kind')}" in the file was left out.`,
    why: 'The design computes it again from the plan.',
    next: 'Nothing to do.',
  }),
  'exchange.id-changed': (params) => ({
    what: `The id "${text(params, 'given')}" could not be kept; "${text(params, 'becomes')}" is used.`,
    why: 'Another feature has it already, or it is not usable as a name.',
    next: 'Give each feature an id of its own.',
  }),
  'exchange.properties-ignored': (params) => ({
    what: `Not used: ${text(params, 'names')}${figure(params, 'count') > 10 ? ' and more' : ''}.`,
    why: 'These properties mean nothing to the design.',
    next: 'Check the spelling if one of them was meant to count.',
  }),
  'exchange.bad-number': (params) => ({
    what: `${text(params, 'key')} is ${text(params, 'given')}.`,
    why: `A number from ${figure(params, 'least')} to ${figure(params, 'most')} is needed; the value was left unsaid.`,
    next: `Correct it. ${SHEET_BLOCKED}`,
  }),
  'exchange.missing-number': (params) => ({
    what: `${text(params, 'key')} is missing.`,
    why: 'The feature means nothing without it, and was left out.',
    next: `Add it, in metres. ${SHEET_BLOCKED}`,
  }),
  'exchange.bad-text': (params) => ({
    what: `${text(params, 'key')} is not a short text.`,
    why: 'It was left unsaid.',
    next: `Correct it. ${SHEET_BLOCKED}`,
  }),
  'exchange.bad-flag': (params) => ({
    what: `${text(params, 'key')} is ${text(params, 'given')}.`,
    why: 'It has to be true or false; it was left unsaid.',
    next: `Correct it. ${SHEET_BLOCKED}`,
  }),
  'exchange.bad-choice': (params) => ({
    what: `${text(params, 'key')} is ${text(params, 'given')}.`,
    why: `It has to be one of: ${text(params, 'accepted')}. It was left unsaid.`,
    next: `Correct it. ${SHEET_BLOCKED}`,
  }),
  'exchange.bad-offsets': () => ({
    what: 'offsetsM is not a table of distances.',
    why: 'It names edge classes, each with its distance in metres; it was left unsaid.',
    next: `Write it as {"paving": 0.08, "foundation": 0.3}. ${SHEET_BLOCKED}`,
  }),
  'exchange.bad-offset': (params) => ({
    what: `offsetsM holds "${text(params, 'name')}", which is not a class with a distance.`,
    why: `Classes are ${text(params, 'accepted')}; a distance is zero or more metres. It was left unsaid.`,
    next: `Correct it. ${SHEET_BLOCKED}`,
  }),
  'exchange.bad-edges': () => ({
    what: 'edges is not a list.',
    why: 'It holds one list a ring, with one class an edge; it was left unsaid.',
    next: `Write it as [["paving", "open", "foundation", "open"]]. ${SHEET_BLOCKED}`,
  }),
  'exchange.bad-edge-class': (params) => ({
    what: `edges names ${text(params, 'names')}.`,
    why: `Classes are ${text(params, 'accepted')}. Those edges take theirs from what they run along.`,
    next: `Correct them. ${SHEET_BLOCKED}`,
  }),
  'exchange.edges-per-ring': (params) => ({
    what: `edges has ${figure(params, 'given')} lists for ${figure(params, 'count')} rings.`,
    why: 'One list a ring is needed, outer ring first; what is over or missing is left unsaid.',
    next: `Correct it. ${SHEET_BLOCKED}`,
  }),
  'exchange.edges-per-side': (params) => ({
    what: `A ring of ${figure(params, 'count')} edges has ${figure(params, 'given')} classes.`,
    why: 'Edge and class are matched in order; edges without one take it from what they run along.',
    next: 'Give one class an edge, in the order of the ring.',
  }),
  'exchange.bad-pump-curve': () => ({
    what: 'pumpCurve cannot be used.',
    why: 'It needs at least two pairs of flow (L/s) and pressure (kPa), flow rising and pressure never rising.',
    next: `Correct it from the pump's data sheet. ${SHEET_BLOCKED}`,
  }),
  'exchange.wrong-geometry': (params) => ({
    what: `This kind of feature needs a ${text(params, 'wanted')}.`,
    why: 'Its geometry is of another type, so it was left out.',
    next: `Draw it as a ${text(params, 'wanted')}, or correct its kind. ${SHEET_BLOCKED}`,
  }),
  'exchange.assumed-radius': (params, print) => ({
    what: `${text(params, 'key')} is not given; ${print.small(figure(params, 'lengthM'))} is assumed.`,
    why: 'Tubing has to keep its distance from something of a known size.',
    next: 'Measure it on site and enter it.',
  }),
  'exchange.stub-up-without-bed': (params) => ({
    what: text(params, 'bed')
      ? `A stub-up names the bed "${text(params, 'bed')}", which is not there.`
      : 'A stub-up has no bed.',
    why: 'It cannot be connected to anything, and was left out.',
    next: `Correct its "bed", or remove it. ${SHEET_BLOCKED}`,
  }),
  'exchange.second-stub-up': (params) => ({
    what: `Bed "${text(params, 'bed')}" has a stub-up already.`,
    why: 'One loop has one stub-up; the second was left out.',
    next: 'Remove one of the two.',
  }),
  'exchange.stub-up-by-nearness': (params) => ({
    what: `A stub-up was given to bed "${text(params, 'bed')}", the nearest.`,
    why: 'It does not name its bed.',
    next: 'Give it "bed": the bed\'s id, if another was meant.',
  }),
  'exchange.no-bed': (params) => ({
    what:
      figure(params, 'count') === 0
        ? 'The file is empty of features.'
        : 'The file holds no bed that can be used.',
    why: 'There is nothing to lay tubing in.',
    next: 'Draw at least one bed as a polygon with "kind": "bed".',
  }),
  'exchange.against-the-schema': (params) => ({
    what: `The plan made from the file is not valid: ${text(params, 'text')}.`,
    why: 'A value is outside what a plan can hold.',
    next: 'Correct the value at the path given.',
  }),
  'exchange.not-a-drawing': () => ({
    what: 'This is not a DXF drawing.',
    why: 'Such a file begins with a section; this one does not.',
    next: 'Export the drawing as DXF text and open that.',
  }),
  'exchange.drawing-binary': () => ({
    what: 'The drawing is in the binary form of DXF.',
    why: 'Only the text form is read here.',
    next: 'Export it again as ASCII DXF.',
  }),
  'exchange.drawing-cut': () => ({
    what: 'The drawing ends in the middle.',
    why: 'Its end mark is missing: most likely the copy or download was cut short.',
    next: 'Copy or export it again.',
  }),
  'exchange.drawing-unreadable': () => ({
    what: 'The drawing cannot be read from here on.',
    why: 'Its lines are not the pairs of code and value that a drawing is made of.',
    next: 'Export it again from where it was drawn.',
  }),
  'exchange.drawing-too-big': (params) => ({
    what: `The drawing holds more than ${figure(params, 'count')} things to draw or characters to read.`,
    why: 'Inserted blocks can multiply without end; larger drawings are refused before they fill the memory.',
    next: 'Export only the layers and the part of the site that are needed.',
  }),
  'exchange.drawing-empty': () => ({
    what: 'The drawing holds nothing that can be drawn here.',
    why: 'Lines, polylines, arcs, circles, points and inserted blocks are taken.',
    next: 'Explode other objects into lines and export again.',
  }),
  'exchange.drawing-left-out': (params) => ({
    what: `Left out: ${text(params, 'kinds')}.`,
    why: 'These kinds of object are not taken, or hold figures that are not finite.',
    next: 'If they matter, turn them into lines and polylines and export again.',
  }),
  'exchange.drawing-unit-said': (params) => ({
    what: `The drawing says its unit is ${text(params, 'unit')}.`,
    why: 'All lengths were read so.',
    next: 'Check one known length; choose another unit if it is wrong.',
  }),
  'exchange.drawing-unit-guessed': (params) => ({
    what: `The drawing does not say its unit; ${text(params, 'unit')} is assumed.`,
    why: 'A wrong unit makes every length wrong.',
    next: 'Choose the unit, and check one known length.',
  }),
  'exchange.drawing-layer-taken': (params) => ({
    what: `This layer (${figure(params, 'count')} objects) is taken as: ${text(params, 'kind')}.`,
    why: 'The choice was made by its name.',
    next: 'Choose what the layer holds, if it is something else.',
  }),
  'exchange.drawing-layer-absent': () => ({
    what: 'A choice was made for a layer that holds nothing here.',
    why: 'No object of the drawing lies on a layer of that name; capitals count.',
    next: 'Compare the name with the layers listed, and correct it.',
  }),
  'exchange.drawing-moved': (params, print) => ({
    what: `The origin was moved onto the site, by ${print.length(figure(params, 'eastM'))} east and ${print.length(figure(params, 'northM'))} north.`,
    why: 'Grid coordinates are too large to draw with; distances within the site stay as they are.',
    next: 'Nothing to do; note the shift if you take points back to the grid.',
  }),
  'exchange.drawing-bed-open': () => ({
    what: 'A line on a layer of beds is not closed.',
    why: 'An open line bounds no ground; it was kept as a reference to trace.',
    next: 'Close the polyline in the drawing, or trace the bed over it.',
  }),
  'exchange.table-too-big': (params) => ({
    what: `The table is larger than ${figure(params, 'count')} rows or characters.`,
    why: 'That is far beyond one planting site.',
    next: 'Cut it to the points of the site.',
  }),
  'exchange.table-without-columns': () => ({
    what: 'The table has no columns for a place.',
    why: 'The first row has to name them: x and y (or easting and northing), or longitude and latitude.',
    next: 'Add a first row with the names of the columns.',
  }),
  'exchange.table-without-points': () => ({
    what: 'The table holds no row that can be used.',
    why: 'No row has figures in both columns of the place.',
    next: 'Check the columns and the decimal marks: a point, not a comma.',
  }),
  'exchange.table-bad-row': (params) => ({
    what: `A row was left out: "${text(params, 'text')}".`,
    why: 'It has no usable figures for its place.',
    next: 'Correct it in the table.',
  }),
  'exchange.table-unit': (params) => ({
    what: `${figure(params, 'count')} points were read in ${text(params, 'unit')}.`,
    why: 'A table of points does not say its unit by itself.',
    next: 'Check one known distance; choose another unit if it is wrong.',
  }),
  'exchange.table-on-earth': (params) => ({
    what: `${figure(params, 'count')} points were read as longitude and latitude (WGS84).`,
    why: 'The columns are named so.',
    next: 'Nothing to do.',
  }),
  'exchange.table-outline-short': (params) => ({
    what: `An outline has ${figure(params, 'count')} points.`,
    why: 'A bed needs at least three corners.',
    next: 'Add the missing points, in order round the bed.',
  }),
  'exchange.picture-too-big': (params) => ({
    what: `The picture is larger than ${figure(params, 'count')} MB.`,
    why: 'A plan carries its pictures with it and would grow too large to save and send.',
    next: 'Save it with fewer pixels or stronger compression, and bring it in again.',
  }),
  'exchange.picture-not-taken': (params) => ({
    what: text(params, 'kind') === '' ? 'This is no picture.' : `This is ${text(params, 'kind')}.`,
    why: 'PNG and JPEG pictures are taken; other kinds can hold programs or outside links, or cannot be drawn everywhere.',
    next: 'Save it as PNG or JPEG first.',
  }),
  'exchange.picture-broken': () => ({
    what: 'The picture is damaged.',
    why: 'Its parts do not follow each other as in a PNG or JPEG file.',
    next: 'Open it in a program for pictures and save it again.',
  }),
  'exchange.picture-cut': () => ({
    what: 'The picture ends in the middle.',
    why: 'Its end mark is missing: most likely the copy or download was cut short.',
    next: 'Copy it again from where it came.',
  }),
  'exchange.picture-too-many-pixels': (params) => ({
    what: `The picture says it has ${figure(params, 'widthPx')} x ${figure(params, 'heightPx')} pixels.`,
    why: `Decoded it would fill the memory; ${figure(params, 'most')} million pixels and ${figure(params, 'side')} to a side are taken.`,
    next: 'Save it with fewer pixels, or cut it to the site.',
  }),
  'exchange.picture-too-slow': () => ({
    what: 'The picture took too long to read.',
    why: 'It was given up so that the desk keeps answering.',
    next: 'Save it with fewer pixels, or cut it to the site.',
  }),
  'exchange.pdf-too-big': (params) => ({
    what: `The PDF is larger than ${figure(params, 'most')} MB.`,
    why: 'Reading it would fill the memory.',
    next: ONE_PAGE,
  }),
  'exchange.pdf-broken': () => ({
    what: 'The PDF cannot be read.',
    why: 'It is damaged or cut short: no page was found in it.',
    next: 'Copy it again from where it came, or print it to a new PDF.',
  }),
  'exchange.pdf-locked': () => ({
    what: 'The PDF is locked by a password.',
    why: 'Passwords are not asked for here.',
    next: 'Save it again without a password, where you may.',
  }),
  'exchange.pdf-too-many-pages': (params) => ({
    what: `The PDF says it has more than ${figure(params, 'most')} pages.`,
    why: 'That is no site plan, and walking through them takes without end.',
    next: ONE_PAGE,
  }),
  'exchange.pdf-page-broken': () => ({
    what: 'The page could not be drawn.',
    why: 'It is missing or damaged in the file.',
    next: 'Choose another page, or print this one to a picture.',
  }),
  'exchange.pdf-page-too-large': (params, print) => ({
    what: `The page says it is ${print.length(figure(params, 'widthM'))} by ${print.length(figure(params, 'heightM'))}.`,
    why: `No paper is longer than ${print.length(figure(params, 'mostM'))}; drawn, its lines would be too fine to see.`,
    next: 'Print the page on a paper size, to a new PDF or a picture.',
  }),
  'exchange.pdf-too-many-operators': (params) => ({
    what: 'The page is drawn in too many steps.',
    why: `${figure(params, 'most')} steps and ${figure(params, 'mostCorners')} corners are taken, a repeated part counted each time and a long text or list by its length; more would fill the memory.`,
    next: 'Leave layers out where it was made, or print the page to a picture.',
  }),
  'exchange.pdf-picture-too-large': (params) => ({
    what: `A picture on the page has more than ${figure(params, 'most')} million pixels.`,
    why: 'Decoded it would fill the memory.',
    next: 'Print the page to a picture of 200 pixels to the inch.',
  }),
  'exchange.pdf-too-much-memory': () => ({
    what: 'The PDF unpacks to more than can be held in memory.',
    why: 'A stream in it grows far beyond the size of the file, or too many sheets lie over each other.',
    next: 'Print the page to a picture of 200 pixels to the inch.',
  }),
  'exchange.pdf-too-slow': () => ({
    what: 'The PDF took too long to draw.',
    why: 'It was given up so that the desk keeps answering.',
    next: 'Leave layers out where it was made, or print the page to a picture.',
  }),
};
