#!/usr/bin/env python3
"""Makes by-the-standard.ods, an .ods workbook by the text of the standard and nothing of eggfall's.

    python3 tests/workbooks/by_the_standard.py tests/workbooks/by-the-standard.ods

OASIS Open Document Format for Office Applications (OpenDocument) Version 1.2, 29 September 2011. Part
1: 3.7 office:body, 6.1 text:p and its white space, 9.1 tables with their rows and cells, 14.1
annotations, 19.367 ff. the attributes of office values, 19.675 and 19.678 what is repeated. Part 3: 3.3
the mimetype, first and stored, and 4 the manifest. (Numbers of sections from memory.)
"""

import sys
import zipfile

NAMES = "urn:oasis:names:tc:opendocument:xmlns:"
KIND = "application/vnd.oasis.opendocument.spreadsheet"


def cell(shown="", attributes="", inside=""):
    # 9.1.4 <table:table-cell>; what is shown need not be what is stored.
    return (f"<table:table-cell{' ' if attributes else ''}{attributes}>{inside}"
            f"{f'<text:p>{shown}</text:p>' if shown else ''}</table:table-cell>")


def text(shown, attributes=""):
    return cell(shown, f'office:value-type="string" {attributes}'.strip())


def number(value, shown=None, attributes=""):
    return cell(shown or value, f'office:value-type="float" office:value="{value}" {attributes}'.strip())


def date(value, shown):
    return cell(shown, f'office:value-type="date" office:date-value="{value}"')


def row(*cells, attributes=""):
    return f"<table:table-row{attributes}>{''.join(cells)}</table:table-row>"


NOTE = "<office:annotation><dc:creator>somebody</dc:creator><text:p>weighed twice</text:p></office:annotation>"
COUNTS = "".join([
    # 9.1.6 to 9.1.12: columns, of which some are printed on every page, and rows likewise.
    '<table:table-header-columns><table:table-column/></table:table-header-columns>',
    '<table:table-column table:number-columns-repeated="16383"/>',
    '<table:table-header-rows>',
    # Merged: one cell over six, the others covered (9.1.5).
    row(text("Faecal egg<text:s/>counts <text:span>of May</text:span>", 'table:number-columns-spanned="6"'),
        '<table:covered-table-cell table:number-columns-repeated="5"/>'),
    row(cell(attributes='table:number-columns-repeated="16384"')),
    row(text("group"), text("animal"), text("eggs<text:line-break/>before"), text("eggs<text:tab/>after"),
        text("weight kg"), text("date")),
    '</table:table-header-rows>',
    '<table:table-row-group>',
    row(text("white drench"), number("401"), number("12", "12.00"), number("0"),
        cell("46", 'office:value-type="float" office:value="45.5"', NOTE), date("2031-03-03", "3 March")),
    # A formula, an error of one as programs before the extension's value type wrote it, a hidden row.
    row(text("white drench"), number("402"), number("7", "7", 'table:formula="of:=3+4"'),
        number("0", "#DIV/0!", 'table:formula="of:=1/0"'), number("45.5"),
        date("2031-03-03T08:15:00", "3 March"), attributes=' table:visibility="collapse"'),
    row(text("white drench"), number("403"), number("7"), number("1"),
        cell("50%", 'office:value-type="percentage" office:value="0.5"'), date("2031-03-17", "17 March"),
        attributes=' table:number-rows-repeated="2"'),
    '</table:table-row-group>',
    row(cell(attributes='table:number-columns-repeated="16384"'), attributes=' table:number-rows-repeated="992"'),
    row(text("checked by hand"), cell("yes", 'office:value-type="boolean" office:boolean-value="true"'),
        cell("12:30", 'office:value-type="time" office:time-value="PT12H30M00S"')),
    row(cell(attributes='table:number-columns-repeated="16384"'),
        attributes=' table:number-rows-repeated="1047576"'),
])
HIDDEN = row(text("worm"), text("larvae"))

CONTENT = f"""<?xml version="1.0" encoding="UTF-8"?>
<office:document-content xmlns:office="{NAMES}office:1.0" xmlns:table="{NAMES}table:1.0"
 xmlns:text="{NAMES}text:1.0" xmlns:style="{NAMES}style:1.0" xmlns:dc="http://purl.org/dc/elements/1.1/"
 office:version="1.2"><office:automatic-styles><style:style style:name="hidden" style:family="table">
<style:table-properties table:display="false"/></style:style></office:automatic-styles>
<office:body><office:spreadsheet><table:table table:name="Counts">{COUNTS}</table:table>
<table:table table:name="Hidden" table:style-name="hidden">{HIDDEN}</table:table>
</office:spreadsheet></office:body></office:document-content>
"""
MANIFEST = f"""<?xml version="1.0" encoding="UTF-8"?>
<manifest:manifest xmlns:manifest="{NAMES}manifest:1.0" manifest:version="1.2">
<manifest:file-entry manifest:full-path="/" manifest:version="1.2" manifest:media-type="{KIND}"/>
<manifest:file-entry manifest:full-path="content.xml" manifest:media-type="text/xml"/>
</manifest:manifest>
"""


def main():
    with zipfile.ZipFile(sys.argv[1], "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content, how in (("mimetype", KIND, zipfile.ZIP_STORED),
                                   ("content.xml", CONTENT, zipfile.ZIP_DEFLATED),
                                   ("META-INF/manifest.xml", MANIFEST, zipfile.ZIP_DEFLATED)):
            part = zipfile.ZipInfo(name, (2031, 3, 3, 0, 0, 0))
            part.compress_type = how
            archive.writestr(part, content)


main()
