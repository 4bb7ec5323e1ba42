#include "report/room.h"

#include "report/hash.h"
#include "report/page.h"

enum { NAME_WIDTH = 43, CELL_WIDTH = 32 };

/* ---- for the terminal ---- */

static void text_table(FILE *to, const struct brv_room_table *table)
{
    fprintf(to, "%-*s", NAME_WIDTH, "1 J/cm2 is 10000 J/m2");
    for (size_t i = 0; i < table->n_column; i++)
        fprintf(to, "%-*s%s", i + 1 < table->n_column ? CELL_WIDTH : 0, brv_room_edition(table->edition[i]),
                i + 1 < table->n_column ? " " : "");
    fputc('\n', to);
    for (size_t k = 0; k < table->n_row; k++) {
        fprintf(to, "%-*s", NAME_WIDTH, table->row[k].name);
        for (size_t i = 0; i < table->n_column; i++)
            fprintf(to, "%-*s%s", i + 1 < table->n_column ? CELL_WIDTH : 0, table->row[k].cell[i],
                    i + 1 < table->n_column ? " " : "");
        fputc('\n', to);
    }
}

void brv_room_text(FILE *to, const struct brv_room_card *card, int whole)
{
    const struct brv_request *request = card->request;
    char hash[BRV_HASH_SIZE];
    struct brv_room_table table;
    struct brv_sheet sheet;
    fprintf(to, "brevis %s   ROOM   %s   [scenario %s]\n\n", BRV_VERSION,
            *request->title ? request->title : "(no title)", brv_hash_scenario(hash, &request->scenario));
    brv_room_head(&sheet, card);
    brv_sheet_text(to, &sheet);
    fputc('\n', to);
    brv_room_tabulate(&table, card);
    text_table(to, &table);
    fputc('\n', to);
    brv_room_notes(&sheet, card);
    brv_sheet_text(to, &sheet);
    brv_room_background(&sheet, card);
    if (!whole) { /* the cautions come last and stay */
        sheet.line[0] = sheet.line[sheet.n - 1];
        sheet.n = 1;
    }
    brv_sheet_text(to, &sheet);
}

/* ---- to print ---- */

static void put_head(FILE *to, const struct brv_room_card *card)
{
    struct brv_sheet sheet;
    fputs("<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n" BRV_PAGE_POLICY
          "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>Room: ",
          to);
    brv_sheet_put_title(to, card->request->title);
    fputs("</title>\n<style>\n"
          "@page { size: A4; margin: 10mm }\n"
          "body { font: 9pt/1.25 sans-serif; color: #000; background: #fff; max-width: 190mm; margin: 0 auto; "
          "padding: 0 3mm }\n"
          "h1 { font-size: 14pt; margin: 0 } h2 { font-size: 10pt; margin: 2mm 0 0 } p { overflow-wrap: anywhere; "
          "margin: 0.6mm 0 }\n"
          "table { border-collapse: collapse; width: 100%; margin: 1.5mm 0; font-size: 9pt }\n"
          "th, td { border: 1px solid #000; padding: 0.4mm 1mm; text-align: left }\n"
          "td:first-child { white-space: pre-wrap }\n"
          ".wide { overflow-x: auto } .small { font-size: 7.8pt } p { padding-left: 18mm; text-indent: -18mm }\n"
          "b { display: inline-block; min-width: 18mm; text-indent: 0 } p.title { padding: 0; text-indent: 0 }\n"
          "</style>\n</head>\n<body>\n<h1>Who else the light may reach</h1>\n",
          to);
    fputs("<p class=\"title\">", to);
    brv_sheet_put_title(to, card->request->title);
    fputs("</p>\n", to);
    brv_room_head(&sheet, card);
    brv_sheet_page(to, &sheet, "");
}

static void put_table(FILE *to, const struct brv_room_card *card)
{
    struct brv_room_table table;
    brv_room_tabulate(&table, card);
    fputs("<div class=\"wide\"><table>\n<tr><th>1 J/cm2 is 10000 J/m2</th>", to);
    for (size_t i = 0; i < table.n_column; i++) brv_sheet_put_in(to, "th", brv_room_edition(table.edition[i]));
    fputs("</tr>\n", to);
    for (size_t k = 0; k < table.n_row; k++) {
        fputs("<tr>", to);
        brv_sheet_put_in(to, "td", table.row[k].name);
        for (size_t i = 0; i < table.n_column; i++) brv_sheet_put_in(to, "td", table.row[k].cell[i]);
        fputs("</tr>\n", to);
    }
    fputs("</table></div>\n<h2>Where the limit of the eye is met (logarithmic scale, thin: high end)</h2>\n", to);
}

void brv_room_page(FILE *to, const struct brv_room_card *card)
{
    char hash[BRV_HASH_SIZE];
    struct brv_sheet sheet;
    put_head(to, card);
    put_table(to, card);
    brv_room_sketch(to, card);
    brv_room_notes(&sheet, card);
    brv_sheet_page(to, &sheet, " class=\"small\"");
    brv_room_background(&sheet, card);
    brv_sheet_page(to, &sheet, " class=\"small\"");
    fprintf(to, "<p class=\"title\">brevis %s, scenario %s. A teaching model, not a medical device.</p>\n", BRV_VERSION,
            brv_hash_scenario(hash, &card->request->scenario));
    fputs("</body>\n</html>\n", to);
}
