/* The faults of one file, each with its place, ready to print: `file:line:column: key = found, allowed ...`. */
#ifndef BRV_CLI_SCENARIO_FAULT_H
#define BRV_CLI_SCENARIO_FAULT_H

#include <stddef.h>
#include <stdio.h>

struct brv_fault {
    int line, column; /* from 1; 0: the file as a whole */
    char *file;       /* owned */
    char *text;       /* owned */
};

struct brv_faults {
    size_t n;
    struct brv_fault *fault; /* owned */
    int out_of_memory;
};

/* Adds one fault; the text is made as by printf. The same fault at the same place is kept once. */
void brv_faults_add(struct brv_faults *faults, const char *file, int line, int column, const char *format, ...)
    __attribute__((format(printf, 5, 6)));

/* Puts them in the order of reading: those of `first_file` by line and column, then the rest by file. */
void brv_faults_sort(struct brv_faults *faults, const char *first_file);

/* Writes all of them, one a line. */
void brv_faults_print(const struct brv_faults *faults, FILE *to);

void brv_faults_free(struct brv_faults *faults);

/* What a file holds, fit for a message: cut after some 60 bytes, control characters and what is no UTF-8 as '?'. Returns
 * `out`.                                                                                                          */
enum { BRV_SHOWN_SIZE = 72 };
const char *brv_fault_shown(char out[BRV_SHOWN_SIZE], const char *text);

#endif
