/* A small writer of JSON (RFC 8259): every number as {"value": ..., "unit": "..."}; what is not finite is null. */
#ifndef BRV_CLI_REPORT_JSON_H
#define BRV_CLI_REPORT_JSON_H

#include "effect/effect.h"

#include <stdio.h>

struct brv_json {
    FILE *to;
    int depth;
    int filled; /* something already stands at this depth */
};

/* `name` NULL inside a list. */
void brv_json_open(struct brv_json *json, const char *name, char bracket); /* '{' or '[' */
void brv_json_close(struct brv_json *json, char bracket);                  /* '}' or ']' */
void brv_json_text(struct brv_json *json, const char *name, const char *text);
void brv_json_flag(struct brv_json *json, const char *name, int flag);
void brv_json_number(struct brv_json *json, const char *name, double value, const char *unit);
void brv_json_sourced(struct brv_json *json, const char *name, double value, const char *unit, const char *source,
                      const char *seen);

/* Value with low and high, each x scale + shift. `source` says where the spread comes from; may be NULL. */
void brv_json_spread(struct brv_json *json, const char *name, const struct brv_spread *spread, double scale,
                     double shift, const char *unit, const char *source);

#endif
