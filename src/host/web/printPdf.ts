/** Opens the printer's dialogue on a finished PDF, in a frame of this page so that nothing leaves it. */
export function printPdf(pdf: Uint8Array, title: string): void {
  const address = URL.createObjectURL(new Blob([pdf.slice()], { type: 'application/pdf' }));
  const frame = document.createElement('iframe');
  frame.className = 'print-frame';
  frame.title = title;
  frame.addEventListener('load', () => frame.contentWindow?.print());
  frame.src = address;
  document.body.append(frame);
  setTimeout(() => {
    frame.remove();
    URL.revokeObjectURL(address);
  }, 600_000);
}
