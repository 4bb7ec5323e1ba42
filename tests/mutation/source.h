/* C by its tokens and functions, as far as a slip needs it. Comments and directives other than #define are left out. */
#ifndef BRV_TESTS_MUTATION_SOURCE_H
#define BRV_TESTS_MUTATION_SOURCE_H

#include <stdbool.h>
#include <stddef.h>

enum kind { NAME, NUMBER, MARK, TEXT };

struct token {
    enum kind kind;
    size_t at, length; /* in the file's text */
    int line;
    bool macro; /* within the body of a #define */
};

struct function {
    size_t name, open, close; /* tokens */
    bool truth, signed_value; /* what it returns */
};

/* At most two places of a text change: an opening and a closing bracket. */
struct slip {
    int line;
    size_t at[2], length[2];
    char with[2][64];
    char what[160];
    size_t function; /* SIZE_MAX outside of all */
};

struct source {
    const char *path;
    char *text;
    struct token *token;
    struct function *function;
    struct slip *slip;
    size_t n_token, n_function, n_slip;
};

/* Room for one more; ends the program where there is none. */
void *grown(void *array, size_t n, size_t size);

/* Reads `path`: text, tokens and functions. Ends the program when it cannot. */
void source_read(struct source *source, const char *path);

bool is(const struct source *source, size_t i, const char *word);
bool among(const struct source *source, size_t i, const char *const words[]);

/* The bracket that closes the one at i; n_token where none does. Macros have brackets of their own. */
size_t closing(const struct source *source, size_t i);

/* The function that holds token i, from its name on; SIZE_MAX where none does. */
size_t function_at(const struct source *source, size_t i);

#endif
