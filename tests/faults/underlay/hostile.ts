import { contours, form, onePage, packed, packedTwice, pdfOf, picture, stream, swelling } from './pdfText';

/** A picture or PDF made to do harm, made only when it is its turn. */
export interface HostileUnderlay {
  readonly name: string;
  /** What may come of it: the refusal's code, or the drawing of what can be drawn. */
  readonly may: readonly string[];
  readonly make: () => string;
  /** True of the few that every test run tries; each starts a worker of its own. */
  readonly isShort?: boolean;
}

const DRAWN = 'drawn';
const OPERATORS = 'exchange.pdf-too-many-operators';
const MEMORY = 'exchange.pdf-too-much-memory';
const BROKEN = 'exchange.pdf-broken';
const PAGE_BROKEN = 'exchange.pdf-page-broken';
const PICTURE = 'exchange.pdf-picture-too-large';
const SLOW = 'exchange.pdf-too-slow';
const SIZE = 'exchange.pdf-page-too-large';
const LINE = '0 0 m 9 9 l S\n';
const SHOW = '200 0 0 100 0 0 cm /P Do';
const lettered = { resources: '/Font<</L<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>>>' };
const onPage = { resources: '/XObject<</P 5 0 R>>' };
const many = (count: number, make: (n: number) => string): string =>
  Array.from({ length: count }, (_, n) => make(n)).join('');
const shown = (...more: string[]): string => onePage({ ...onPage, content: stream('', SHOW), more });
/** A page filled with tiles of a side, in points. */
const tiled = (side: number, resources = '', drawing = LINE): string =>
  onePage({
    resources: '/Pattern<</P 5 0 R>>',
    content: stream('', '/Pattern cs /P scn 0 0 200 100 re f'),
    more: [
      stream(
        `/Type/Pattern/PatternType 1/PaintType 1/TilingType 1/BBox[0 0 ${side} ${side}]/XStep ${side}/YStep ${side}/Resources<<${resources}>>`,
        drawing,
      ),
    ],
  });
/** A photograph that says a size and holds next to nothing. */
const photograph = (side: number): string =>
  `\xff\xd8\xff\xdb\0\x43\0${'\x01'.repeat(64)}\xff\xc0\0\x0b\x08${String.fromCharCode(side >> 8, side & 255).repeat(2)}\x01\x01\x11\0\xff\xc4\0\x14\0\x01${'\0'.repeat(15)}\x03\xff\xda\0\x08\x01\x01\0\0\x3f\0\x00\xff\xd9`;

/** Underlays that are refused, or drawn, before they do harm. */
export const HOSTILE: readonly HostileUnderlay[] = [
  { name: 'a sound page', may: [DRAWN], make: () => onePage() },
  {
    name: 'a full plan of a hundred thousand lines, which is no harm',
    may: [DRAWN],
    make: () => onePage({ content: packed('', LINE.repeat(100_000)) }),
  },
  {
    name: 'a survey of contours of a million corners, 4 MB in the file, which is no harm',
    may: [DRAWN],
    make: () => onePage({ content: packed('', contours(2000, 500)) }),
  },
  {
    name: 'two million lines',
    may: [OPERATORS],
    make: () => onePage({ content: packed('', LINE.repeat(2_000_000)) }),
  },
  {
    name: 'one path of six million corners',
    may: [OPERATORS],
    make: () => onePage({ content: packed('', `0 0 m\n${'9 9 l\n'.repeat(6_500_000)}S`) }),
  },
  {
    name: 'one path of six million corners, packed twice over',
    may: [OPERATORS],
    make: () => onePage({ content: packedTwice('', `0 0 m\n${'9 9 l\n'.repeat(6_500_000)}S`) }),
  },
  {
    name: 'one path of six million corners, in ten pieces',
    may: [OPERATORS],
    make: () =>
      onePage({
        more: Array.from({ length: 10 }, (_, n) =>
          packed('', `${n === 0 ? '0 0 m\n' : ''}${'9 9 l\n'.repeat(650_000)}${n === 9 ? 'S' : ''}`),
        ),
      }).replace('/Contents 4 0 R', `/Contents[${many(10, (n) => `${n + 5} 0 R `)}]`),
  },
  {
    name: 'two thousand saves of the pen between lines of a plan',
    may: [OPERATORS],
    make: () => onePage({ content: packed('', `q ${LINE}`.repeat(2000)) }),
  },
  {
    name: 'a text of thirty million letters',
    may: [OPERATORS],
    make: () =>
      onePage({ ...lettered, content: packed('', `BT /L 12 Tf 9 9 Td (${'a'.repeat(30_000_000)}) Tj ET`) }),
  },
  {
    name: 'three hundred texts of a hundred thousand letters',
    may: [OPERATORS],
    make: () =>
      onePage({
        ...lettered,
        content: packed('', `BT /L 12 Tf 9 9 Td ${`(${'a'.repeat(100_000)}) Tj `.repeat(300)}ET`),
      }),
  },
  {
    name: 'ten million steps between letters',
    may: [OPERATORS],
    make: () =>
      onePage({ ...lettered, content: packed('', `BT /L 12 Tf [${'1 '.repeat(10_000_000)}] TJ ET`) }),
  },
  {
    name: 'dashes by a list of ten million',
    may: [OPERATORS],
    make: () => onePage({ content: packed('', `[${'1 '.repeat(10_000_000)}] 0 d ${LINE}`) }),
  },
  {
    name: 'a hundred thousand drawings of one page, all the same one',
    may: [OPERATORS],
    make: () => onePage().replace('/Contents 4 0 R', `/Contents[${'4 0 R '.repeat(100_000)}]`),
  },
  {
    name: 'a hundred thousand notes with a picture each',
    may: [OPERATORS],
    make: () =>
      onePage({
        page: `/Annots[${'5 0 R '.repeat(100_000)}]`,
        more: ['<</Type/Annot/Subtype/Square/Rect[0 0 50 50]/AP<</N 6 0 R>>>>', form(LINE)],
      }),
  },
  {
    name: 'a sheet of notes of two hundred thousand letters, which is no harm',
    may: [DRAWN],
    make: () =>
      onePage({
        ...lettered,
        content: packed('', `BT /L 1 Tf 9 9 Td ${`(${'north bed '.repeat(20)}) Tj 0 1 Td `.repeat(1000)}ET`),
      }),
  },
  {
    name: 'five million saves of the pen',
    may: [OPERATORS],
    make: () => onePage({ content: packed('', 'q '.repeat(5_000_000)) }),
  },
  {
    name: 'a form of a thousand lines, used a hundred thousand times',
    may: [OPERATORS],
    make: () =>
      onePage({ ...onPage, content: packed('', '/P Do '.repeat(100_000)), more: [form(LINE.repeat(1000))] }),
  },
  {
    name: 'ten forms, each ten of the next',
    isShort: true,
    may: [OPERATORS],
    make: () =>
      onePage({
        ...onPage,
        content: stream('', '/P Do '.repeat(10)),
        more: Array.from({ length: 10 }, (_, n) =>
          n === 9 ? form(LINE) : form('/P Do '.repeat(10), `/XObject<</P ${n + 6} 0 R>>`),
        ),
      }),
  },
  {
    name: 'a form that holds itself',
    may: [DRAWN, OPERATORS, PAGE_BROKEN],
    make: () =>
      onePage({
        ...onPage,
        content: stream('', '/P Do'),
        more: [form('/P Do /P Do', '/XObject<</P 5 0 R>>')],
      }),
  },
  {
    name: 'three hundred groups, one in the other',
    may: [DRAWN, MEMORY],
    make: () =>
      onePage({
        ...onPage,
        box: '[0 0 2000 2000]',
        content: stream('', '/P Do'),
        more: Array.from({ length: 300 }, (_, n) =>
          stream(
            `/Type/XObject/Subtype/Form/BBox[0 0 2000 2000]/Group<</S/Transparency/I true>>/Resources<</XObject<</P ${n + 6} 0 R>>>>`,
            n === 299 ? LINE : `${LINE}/P Do`,
          ),
        ),
      }),
  },
  {
    name: 'a picture that says 60,000 x 60,000',
    isShort: true,
    may: [PICTURE],
    make: () => shown(picture(60_000, 60_000, '', 'x')),
  },
  {
    name: 'a picture of ten pixels that unpacks to two gigabytes',
    isShort: true,
    may: [DRAWN, MEMORY],
    make: () => shown(picture(10, 10, '/Filter/FlateDecode', swelling(2000, '\0'))),
  },
  {
    name: 'a picture packed twice over',
    may: [DRAWN, MEMORY],
    make: () => {
      const inner = swelling(800, '\0');
      return shown(
        packed(
          '/Type/XObject/Subtype/Image/Width 10/Height 10/ColorSpace/DeviceGray/BitsPerComponent 8',
          inner,
        ).replace('/Filter/FlateDecode', '/Filter[/FlateDecode/FlateDecode]'),
      );
    },
  },
  {
    name: 'a photograph of ten pixels that says 65,500 x 65,500 inside',
    may: [DRAWN, MEMORY, PICTURE],
    make: () => shown(picture(10, 10, '/Filter/DCTDecode', photograph(65_500))),
  },
  {
    name: 'a picture whose mask says 60,000 x 60,000',
    may: [DRAWN, PICTURE, MEMORY],
    make: () => shown(picture(10, 10, '/SMask 6 0 R', '\x7f'.repeat(100)), picture(60_000, 60_000, '', 'x')),
  },
  {
    name: 'a picture within the page that says 50,000 x 50,000',
    may: [DRAWN, PICTURE, MEMORY],
    make: () =>
      onePage({ content: stream('', 'q 200 0 0 100 0 0 cm BI /W 50000 /H 50000 /CS /G /BPC 8 ID x EI Q') }),
  },
  {
    name: 'a fax of a thousand million columns',
    may: [DRAWN, PICTURE, MEMORY],
    make: () =>
      shown(
        picture(
          10,
          10,
          '/Filter/CCITTFaxDecode/DecodeParms<</K -1/Columns 1000000000/Rows 1000000000>>',
          '\0\x10'.repeat(1000),
          '/ColorSpace/DeviceGray/BitsPerComponent 1',
        ),
      ),
  },
  {
    name: 'a row predicted from a thousand million columns',
    may: [DRAWN, MEMORY],
    make: () =>
      shown(
        picture(
          10,
          10,
          '/Filter/FlateDecode/DecodeParms<</Predictor 12/Columns 1000000000>>',
          swelling(8, '\0'),
        ),
      ),
  },
  {
    name: 'fifty pictures of thirty-six million pixels',
    may: [MEMORY, SLOW],
    make: () =>
      onePage({
        resources: `/XObject<<${many(50, (n) => `/P${n} ${n + 5} 0 R`)}>>`,
        content: stream(
          '',
          many(50, (n) => `q 200 0 0 100 0 0 cm /P${n} Do Q `),
        ),
        more: Array.from({ length: 50 }, () =>
          picture(6000, 6000, '/Filter/FlateDecode', swelling(36, '\x55')),
        ),
      }),
  },
  {
    name: 'drawing that unpacks to two gigabytes of blanks',
    may: [DRAWN, MEMORY],
    make: () => onePage({ content: stream('/Filter/FlateDecode', swelling(2000)) }),
  },
  {
    name: 'twenty drawings that unpack to a hundred megabytes each',
    may: [MEMORY, SLOW],
    make: () => {
      const text = onePage({
        more: Array.from({ length: 20 }, () => stream('/Filter/FlateDecode', swelling(100))),
      });
      return text.replace('/Contents 4 0 R', `/Contents[${many(20, (n) => `${n + 5} 0 R `)}]`);
    },
  },
  {
    name: 'a page of a thousand million points',
    may: [SIZE],
    make: () => onePage({ box: '[0 0 1000000000 1000000000]' }),
  },
  {
    name: 'a page a mile long and a hair wide',
    may: [SIZE],
    make: () => onePage({ box: '[0 0 4600000 0.01]' }),
  },
  { name: 'a page whose unit is a mile', may: [SIZE], make: () => onePage({ page: '/UserUnit 4600000' }) },
  {
    name: 'a page whose box is no box',
    may: [DRAWN, PAGE_BROKEN],
    make: () => onePage({ box: '[0 0 (a) null]' }),
  },
  { name: 'a page without size', may: [DRAWN, PAGE_BROKEN, SIZE], make: () => onePage({ box: '[5 5 5 5]' }) },
  {
    name: 'a PDF locked by a password',
    isShort: true,
    may: ['exchange.pdf-locked'],
    make: () =>
      onePage({
        more: [`<</Filter/Standard/V 1/R 2/O<${'41'.repeat(32)}>/U<${'42'.repeat(32)}>/P -4>>`],
        trailer: `/Encrypt 5 0 R/ID[<${'43'.repeat(16)}><${'43'.repeat(16)}>]`,
      }),
  },
  {
    name: 'a PDF locked in a way that nobody knows',
    may: [BROKEN, 'exchange.pdf-locked'],
    make: () => onePage({ more: ['<</Filter/Other/V 99>>'], trailer: '/Encrypt 5 0 R' }),
  },
  { name: 'a PDF of its first line alone', may: [BROKEN], make: () => '%PDF-1.7\n' },
  { name: 'a PDF cut in the middle', may: [DRAWN, BROKEN, PAGE_BROKEN], make: () => onePage().slice(0, 260) },
  {
    name: 'a page tree that holds itself',
    isShort: true,
    may: [BROKEN, PAGE_BROKEN],
    make: () =>
      pdfOf(['<</Type/Catalog/Pages 2 0 R>>', '<</Type/Pages/Kids[2 0 R 2 0 R]/Count 2/Parent 2 0 R>>']),
  },
  {
    name: 'a page that is its own parent',
    may: [DRAWN, BROKEN, PAGE_BROKEN],
    make: () => onePage().replace('/Parent 2 0 R/MediaBox [0 0 200 100]', '/Parent 3 0 R'),
  },
  {
    name: 'two thousand million pages',
    may: ['exchange.pdf-too-many-pages', DRAWN],
    make: () => onePage().replace('/Count 1', '/Count 2000000000'),
  },
  {
    name: 'a table of contents that leads back to itself',
    may: [DRAWN, BROKEN],
    make: () => {
      const text = onePage();
      const at = /startxref\n(\d+)/.exec(text)?.[1] ?? '0';
      return text.replace('/Root 1 0 R', `/Root 1 0 R/Prev ${at}`);
    },
  },
  {
    name: 'a table that says it has two thousand million rows',
    may: [DRAWN, BROKEN],
    make: () => onePage().replace(/xref\n0 5/, 'xref\n0 2000000000'),
  },
  {
    name: 'brackets a million deep',
    may: [DRAWN, BROKEN, PAGE_BROKEN],
    make: () => onePage({ page: `/Annots ${'['.repeat(1_000_000)}` }),
  },
  {
    name: 'a script, a program to start and a page to visit',
    isShort: true,
    may: [DRAWN],
    make: () =>
      onePage({
        catalogue:
          '/OpenAction<</S/JavaScript/JS(app.alert\\(1\\);fetch\\("http://192.0.2.1/"\\))>>/AA<</WC<</S/Launch/F(/bin/sh)>>>>/Names<</JavaScript<</Names[(a)<</S/JavaScript/JS(while\\(true\\);)>>]>>>>',
        page: '/AA<</O<</S/URI/URI(http://192.0.2.1/)>>>>/Annots[<</Type/Annot/Subtype/Link/Rect[0 0 200 100]/A<</S/Launch/F(/bin/sh)>>>><</Type/Annot/Subtype/Screen/Rect[0 0 9 9]/A<</S/GoToR/F(http://192.0.2.1/a.pdf)>>>>]',
      }),
  },
  {
    name: 'a picture that is kept at an address',
    may: [DRAWN],
    make: () => shown(picture(10, 10, '/F<</FS/URL/F(http://192.0.2.1/a.png)>>', '')),
  },
  {
    name: 'a tile of a thousandth of a point',
    may: [DRAWN, MEMORY, PAGE_BROKEN],
    make: () => tiled(0.001),
  },
  {
    name: 'a tile of a thousand million points',
    may: [DRAWN, MEMORY, PAGE_BROKEN],
    make: () => tiled(1_000_000_000),
  },
  {
    name: 'a tile drawn with itself',
    may: [DRAWN, OPERATORS, MEMORY, PAGE_BROKEN, SLOW],
    make: () => tiled(9, '/Pattern<</P 5 0 R>>', '/Pattern cs /P scn 0 0 9 9 re f'),
  },
  {
    name: 'a shade by a table of a thousand million values',
    may: [DRAWN, MEMORY, PAGE_BROKEN],
    make: () =>
      onePage({
        resources: '/Shading<</P 5 0 R>>',
        content: stream('', '/P sh'),
        more: [
          '<</ShadingType 1/ColorSpace/DeviceGray/Domain[0 1 0 1]/Matrix[200 0 0 100 0 0]/Function 6 0 R>>',
          stream('/FunctionType 0/Domain[0 1 0 1]/Range[0 1]/Size[32000 32000]/BitsPerSample 8', 'x'),
        ],
      }),
  },
  {
    name: 'letters out of a font of eighty megabytes of nothing',
    may: [DRAWN, MEMORY, PAGE_BROKEN],
    make: () =>
      onePage({
        resources: '/Font<</F 5 0 R>>',
        content: stream('', 'BT /F 12 Tf 9 9 Td (bed) Tj ET'),
        more: [
          '<</Type/Font/Subtype/TrueType/BaseFont/A/FirstChar 0/LastChar 0/Widths[500]/FontDescriptor 6 0 R>>',
          '<</Type/FontDescriptor/FontName/A/Flags 4/FontFile2 7 0 R>>',
          stream('/Filter/FlateDecode', swelling(80, '\0')),
        ],
      }),
  },
  {
    name: 'a letter that is written with itself',
    may: [DRAWN, OPERATORS, PAGE_BROKEN],
    make: () =>
      onePage({
        resources: '/Font<</F 5 0 R>>',
        content: stream('', 'BT /F 12 Tf 9 9 Td (aaaa) Tj ET'),
        more: [
          '<</Type/Font/Subtype/Type3/FontBBox[0 0 1 1]/FontMatrix[1 0 0 1 0 0]/FirstChar 97/LastChar 97/Widths[1]/Encoding<</Differences[97/a]>>/CharProcs<</a 6 0 R>>/Resources<</Font<</F 5 0 R>>>>>>',
          stream('', '1 0 0 0 1 1 d1 BT /F 1 Tf (aaaaaaaaaa) Tj ET'),
        ],
      }),
  },
  {
    name: 'dashes of a millionth over a long line',
    may: [DRAWN],
    make: () => onePage({ content: stream('', '[0.000001] 0 d 1 w -100000 50 m 100000 50 l S') }),
  },
  {
    name: 'a line a thousand million wide, letters of the same height',
    may: [DRAWN],
    make: () =>
      onePage({
        content: stream('', '1000000000 w 0 0 m 9e9 9e9 l S 1e30 0 0 1e30 0 0 cm 0 0 m 1e30 1e30 l S'),
      }),
  },
  {
    name: 'a colour of a hundred million others',
    may: [DRAWN, MEMORY, PAGE_BROKEN],
    make: () =>
      shown(
        picture(
          10,
          10,
          '',
          '\0'.repeat(100),
          '/ColorSpace[/Indexed/DeviceRGB 100000000(abc)]/BitsPerComponent 8',
        ),
      ),
  },
];
