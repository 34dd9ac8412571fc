//! What a file of release 2018 has around its shapes: tables, blocks and objects that every reader
//! of newer editions asks for, linked by handles.
//!
//! Handles below 0x100 stand for: 1 to 9 the tables, 20 to 29 their entries, 28 and 29 the blocks'
//! records, 2A to 2D the blocks, 30 to 38 the objects.

use super::layers::Layers;
use super::tags::Tags;
use super::{DxfEdition, put_header};
use geometry::Point;

/// A whole file.
pub(super) fn file(layers: &Layers, entities: &Tags, size: Point) -> String {
    let mut body = Tags::new(DxfEdition::R2018);
    body.after(entities);
    put_tables(&mut body, layers, size);
    body.fixed(BLOCKS);
    body.fixed("0 SECTION; 2 ENTITIES");
    body.append(entities);
    body.fixed("0 ENDSEC");
    put_objects(&mut body, size);

    let mut out = Tags::new(DxfEdition::R2018);
    put_header(&mut out, "AC1032", size);
    out.fixed("9 $DWGCODEPAGE; 3 ANSI_1252; 9 $HANDSEED");
    let next = body.handle();
    out.text(5, &next);
    out.fixed(CLASSES);
    out.append(&body);
    out.fixed("0 EOF");
    out.finish()
}

/// The classes of objects that are not built into every reader.
const CLASSES: &str = "0 ENDSEC; 0 SECTION; 2 CLASSES;\
    0 CLASS; 1 ACDBDICTIONARYWDFLT; 2 AcDbDictionaryWithDefault; 3 ObjectDBX Classes; 90 0; 91 1; 280 0; 281 0;\
    0 CLASS; 1 ACDBPLACEHOLDER; 2 AcDbPlaceHolder; 3 ObjectDBX Classes; 90 0; 91 1; 280 0; 281 0;\
    0 CLASS; 1 LAYOUT; 2 AcDbLayout; 3 ObjectDBX Classes; 90 0; 91 2; 280 0; 281 0; 0 ENDSEC";

/// Line types, and the table of layers with the one that must be there.
const LINES: &str = "0 TABLE; 2 LTYPE; 5 2; 330 0; 100 AcDbSymbolTable; 70 3;\
    0 LTYPE; 5 21; 330 2; 100 AcDbSymbolTableRecord; 100 AcDbLinetypeTableRecord; 2 ByBlock; 70 0; 3 ; 72 65; 73 0; 40 0.0;\
    0 LTYPE; 5 22; 330 2; 100 AcDbSymbolTableRecord; 100 AcDbLinetypeTableRecord; 2 ByLayer; 70 0; 3 ; 72 65; 73 0; 40 0.0;\
    0 LTYPE; 5 23; 330 2; 100 AcDbSymbolTableRecord; 100 AcDbLinetypeTableRecord; 2 Continuous; 70 0; 3 Solid line; 72 65; 73 0; 40 0.0;\
    0 ENDTAB; 0 TABLE; 2 LAYER; 5 3; 330 0; 100 AcDbSymbolTable";
const LAYER_0: &str = "0 LAYER; 5 24; 330 3; 100 AcDbSymbolTableRecord; 100 AcDbLayerTableRecord;\
    2 0; 70 0; 62 7; 6 Continuous; 370 -3; 390 36";

/// Text style, views, applications, dimension style, blocks.
const TABLES: &str = "0 ENDTAB; 0 TABLE; 2 STYLE; 5 4; 330 0; 100 AcDbSymbolTable; 70 1;\
    0 STYLE; 5 25; 330 4; 100 AcDbSymbolTableRecord; 100 AcDbTextStyleTableRecord; 2 Standard; 70 0;\
    40 0.0; 41 1.0; 50 0.0; 71 0; 42 2.5; 3 txt; 4 ;\
    0 ENDTAB; 0 TABLE; 2 VIEW; 5 5; 330 0; 100 AcDbSymbolTable; 70 0;\
    0 ENDTAB; 0 TABLE; 2 UCS; 5 6; 330 0; 100 AcDbSymbolTable; 70 0;\
    0 ENDTAB; 0 TABLE; 2 APPID; 5 7; 330 0; 100 AcDbSymbolTable; 70 1;\
    0 APPID; 5 26; 330 7; 100 AcDbSymbolTableRecord; 100 AcDbRegAppTableRecord; 2 ACAD; 70 0;\
    0 ENDTAB; 0 TABLE; 2 DIMSTYLE; 5 8; 330 0; 100 AcDbSymbolTable; 70 1; 100 AcDbDimStyleTable; 71 1;\
    0 DIMSTYLE; 105 27; 330 8; 100 AcDbSymbolTableRecord; 100 AcDbDimStyleTableRecord; 2 Standard; 70 0; 340 25;\
    0 ENDTAB; 0 TABLE; 2 BLOCK_RECORD; 5 9; 330 0; 100 AcDbSymbolTable; 70 2;\
    0 BLOCK_RECORD; 5 28; 330 9; 100 AcDbSymbolTableRecord; 100 AcDbBlockTableRecord; 2 *Model_Space; 340 34; 70 4; 280 1; 281 0;\
    0 BLOCK_RECORD; 5 29; 330 9; 100 AcDbSymbolTableRecord; 100 AcDbBlockTableRecord; 2 *Paper_Space; 340 35; 70 4; 280 1; 281 0;\
    0 ENDTAB; 0 ENDSEC";

/// The two blocks that must be there; what is drawn belongs to the first.
const BLOCKS: &str = "0 SECTION; 2 BLOCKS;\
    0 BLOCK; 5 2A; 330 28; 100 AcDbEntity; 8 0; 100 AcDbBlockBegin; 2 *Model_Space; 70 0; 10 0.0; 20 0.0; 30 0.0; 3 *Model_Space; 1 ;\
    0 ENDBLK; 5 2B; 330 28; 100 AcDbEntity; 8 0; 100 AcDbBlockEnd;\
    0 BLOCK; 5 2C; 330 29; 100 AcDbEntity; 67 1; 8 0; 100 AcDbBlockBegin; 2 *Paper_Space; 70 0; 10 0.0; 20 0.0; 30 0.0; 3 *Paper_Space; 1 ;\
    0 ENDBLK; 5 2D; 330 29; 100 AcDbEntity; 67 1; 8 0; 100 AcDbBlockEnd; 0 ENDSEC";

/// The dictionaries: groups, layouts, plot styles.
const DICTIONARIES: &str = "0 SECTION; 2 OBJECTS;\
    0 DICTIONARY; 5 30; 330 0; 100 AcDbDictionary; 281 1; 3 ACAD_GROUP; 350 31; 3 ACAD_LAYOUT; 350 32; 3 ACAD_PLOTSTYLENAME; 350 33;\
    0 DICTIONARY; 5 31; 330 30; 100 AcDbDictionary; 281 1;\
    0 DICTIONARY; 5 32; 330 30; 100 AcDbDictionary; 281 1; 3 Model; 350 34; 3 Layout1; 350 35;\
    0 ACDBDICTIONARYWDFLT; 5 33; 330 30; 100 AcDbDictionary; 281 1; 3 Normal; 350 36; 100 AcDbDictionaryWithDefault; 340 36;\
    0 ACDBPLACEHOLDER; 5 36; 330 33";

fn put_tables(out: &mut Tags, layers: &Layers, size: Point) {
    out.fixed("0 SECTION; 2 TABLES; 0 TABLE; 2 VPORT; 5 1; 330 0; 100 AcDbSymbolTable; 70 1");
    put_view(out, size);
    out.fixed("0 ENDTAB");
    out.fixed(LINES);
    out.int(70, layers.all().count() as i64 + 1);
    out.fixed(LAYER_0);
    for layer in layers.all() {
        out.text(0, "LAYER");
        let handle = out.handle();
        out.text(5, &handle);
        out.fixed("330 3; 100 AcDbSymbolTableRecord; 100 AcDbLayerTableRecord");
        out.text(2, &layer.name);
        out.int(70, 0);
        out.int(62, layer.aci.into());
        if let Some(lay::Colour(r, g, b)) = layer.colour {
            out.int(420, i64::from(r) << 16 | i64::from(g) << 8 | i64::from(b));
        }
        out.fixed("6 Continuous; 370 -3; 390 36");
    }
    out.fixed(TABLES);
}

/// The view that a program opens with: all of the blank, and a tenth around it.
fn put_view(out: &mut Tags, size: Point) {
    out.fixed("0 VPORT; 5 20; 330 1; 100 AcDbSymbolTableRecord; 100 AcDbViewportTableRecord");
    out.fixed("2 *Active; 70 0; 10 0.0; 20 0.0; 11 1.0; 21 1.0");
    out.real(12, size.x / 2.0);
    out.real(22, size.y / 2.0);
    out.fixed("13 0.0; 23 0.0; 14 10.0; 24 10.0; 15 10.0; 25 10.0");
    out.fixed("16 0.0; 26 0.0; 36 1.0; 17 0.0; 27 0.0; 37 0.0");
    // Height and proportion of the view; the usual window is four by three.
    out.real(40, 1.1 * size.y.max(size.x * 0.75));
    out.real(41, 4.0 / 3.0);
    out.fixed("42 50.0; 43 0.0; 44 0.0; 50 0.0; 51 0.0; 71 0; 72 1000; 73 1; 74 3; 75 0; 76 0; 77 0; 78 0");
}

fn put_objects(out: &mut Tags, size: Point) {
    out.fixed(DICTIONARIES);
    for (name, handle, block, flags, no) in
        [("Model", "34", "28", 1024, 0), ("Layout1", "35", "29", 0, 1)]
    {
        out.text(0, "LAYOUT");
        out.text(5, handle);
        out.fixed("330 32; 100 AcDbPlotSettings; 1 ; 2 ; 4 ; 6 ; 40 0.0; 41 0.0; 42 0.0; 43 0.0");
        out.fixed("44 210.0; 45 297.0; 46 0.0; 47 0.0; 48 0.0; 49 0.0; 140 0.0; 141 0.0");
        out.fixed("142 1.0; 143 1.0");
        out.int(70, flags);
        // Plotted in millimetres, one to one.
        out.fixed("72 1; 73 0; 74 5; 7 ; 75 16; 147 1.0; 148 0.0; 149 0.0; 100 AcDbLayout");
        out.text(1, name);
        out.int(70, 1);
        out.int(71, no);
        out.fixed("10 0.0; 20 0.0");
        out.real(11, size.x);
        out.real(21, size.y);
        out.fixed("12 0.0; 22 0.0; 32 0.0; 14 0.0; 24 0.0; 34 0.0");
        out.point(15, size);
        out.fixed(
            "146 0.0; 13 0.0; 23 0.0; 33 0.0; 16 1.0; 26 0.0; 36 0.0; 17 0.0; 27 1.0; 37 0.0",
        );
        out.int(76, 0);
        out.text(330, block);
    }
    out.fixed("0 ENDSEC");
}
