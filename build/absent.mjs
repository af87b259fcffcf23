// Stands in for the optional packages of the PDF writer that this program never uses.
export default undefined;
