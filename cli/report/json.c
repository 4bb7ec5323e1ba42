#include "report/json.h"

#include "report/number.h"
#include "scenario/letters.h"

#include <math.h>

static void begin(struct brv_json *json, const char *name)
{
    fprintf(json->to, "%s\n%*s", json->filled ? "," : "", 2 * json->depth, "");
    if (name) fprintf(json->to, "\"%s\": ", name);
    json->filled = 1;
}

/* What is no UTF-8 becomes U+FFFD, for names of files may be none: no reader would take the document otherwise. */
static void quote(FILE *to, const char *text)
{
    fputc('"', to);
    for (size_t length; *text; text += length) {
        const uint32_t letter = brv_letters_at(text, &length);
        if (letter == 0xFFFD)
            fputs("\xEF\xBF\xBD", to);
        else if (letter == '"' || letter == '\\')
            fprintf(to, "\\%c", *text);
        else if (letter < 0x20)
            fprintf(to, "\\u%04x", (unsigned)letter);
        else
            fwrite(text, 1, length, to);
    }
    fputc('"', to);
}

static void plain(FILE *to, const char *name, double value)
{
    char text[BRV_NUMBER_SIZE];
    fprintf(to, "\"%s\": %s", name, isfinite(value) ? brv_number_exact(text, value) : "null");
}

void brv_json_open(struct brv_json *json, const char *name, char bracket)
{
    if (json->depth > 0 || name) begin(json, name);
    fputc(bracket, json->to);
    json->depth++;
    json->filled = 0;
}

void brv_json_close(struct brv_json *json, char bracket)
{
    json->depth--;
    if (json->filled) fprintf(json->to, "\n%*s", 2 * json->depth, "");
    fputc(bracket, json->to);
    json->filled = 1;
    if (json->depth == 0) fputc('\n', json->to);
}

void brv_json_text(struct brv_json *json, const char *name, const char *text)
{
    begin(json, name);
    quote(json->to, text);
}

void brv_json_flag(struct brv_json *json, const char *name, int flag)
{
    begin(json, name);
    fputs(flag ? "true" : "false", json->to);
}

static void open_number(struct brv_json *json, const char *name, double value, const char *unit)
{
    begin(json, name);
    fputc('{', json->to);
    plain(json->to, "value", value);
    fputs(", \"unit\": ", json->to);
    quote(json->to, unit);
}

static void add_text(struct brv_json *json, const char *name, const char *text)
{
    fprintf(json->to, ", \"%s\": ", name);
    quote(json->to, text);
}

void brv_json_number(struct brv_json *json, const char *name, double value, const char *unit)
{
    open_number(json, name, value, unit);
    fputc('}', json->to);
}

void brv_json_sourced(struct brv_json *json, const char *name, double value, const char *unit, const char *source,
                      const char *seen)
{
    open_number(json, name, value, unit);
    add_text(json, "source", source);
    add_text(json, "seen", seen);
    fputc('}', json->to);
}

void brv_json_spread(struct brv_json *json, const char *name, const struct brv_spread *spread, double scale,
                     double shift, const char *unit, const char *source)
{
    open_number(json, name, spread->value * scale + shift, unit);
    fputs(", ", json->to);
    plain(json->to, "low", spread->low * scale + shift);
    fputs(", ", json->to);
    plain(json->to, "high", spread->high * scale + shift);
    if (source) add_text(json, "source", source);
    fputc('}', json->to);
}
