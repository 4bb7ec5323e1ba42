/* The choices of a scenario: the section `choices`, each a name and the keys that differ.
 *     choices:
 *       as it is: {}
 *       wider spot, same energy: {light.spot: 7 mm, light.energy: 75 mJ}
 * A choice changes the scenario as --set does, after every --set, and is checked like a scenario of its own.      */
#ifndef BRV_CLI_SCENARIO_CHOICES_H
#define BRV_CLI_SCENARIO_CHOICES_H

#include "scenario/request.h"

#include <stdbool.h>

enum {
    BRV_MOST_CHOICES = 24,
    BRV_CHOICE_NAME_LETTERS = 40,
    BRV_CHOICE_NAME_SIZE = 161,
    BRV_CHOICE_CHANGES_SIZE = BRV_TITLE_SIZE
};

struct brv_choice {
    char name[BRV_CHOICE_NAME_SIZE];
    char changes[BRV_CHOICE_CHANGES_SIZE]; /* "light.spot 7 mm, light.energy 75 mJ"; "" for the scenario itself */
    struct brv_request request;
};

struct brv_choices {
    size_t n;
    bool apart;                /* each is a scenario of its own, from its own file */
    struct brv_choice *choice; /* [n] owned */
};

/* Reads a scenario and its choices. When no choice is the scenario itself, the first one is, "as written"; a file without
 * the section gives that one alone. Faults of the scenario and of all its choices are listed, each once. Returns as
 * brv_request_read; `choices` is to be freed in every case.                                                         */
int brv_choices_read(struct brv_choices *choices, const char *path, const char *const set[], size_t n_set,
                     struct brv_faults *faults);

/* The same from memory, for who keeps the text; `name` is what messages call it. */
int brv_choices_parse(struct brv_choices *choices, const char *name, const char *text, size_t size,
                      const char *const set[], size_t n_set, struct brv_faults *faults);

void brv_choices_free(struct brv_choices *choices);

#endif
