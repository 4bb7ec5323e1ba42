/* Words that people write where the program uses another one, with what to tell them. */
#ifndef BRV_CLI_SCENARIO_SLIP_H
#define BRV_CLI_SCENARIO_SLIP_H

struct brv_slip {
    const char *section; /* as brv_scope_name gives it, or "" for the top of a file */
    const char *written;
    const char *meant; /* the key, or NULL when there is none */
    const char *text;  /* a sentence, or NULL: "did you mean ...?" says it all */
};

/* The slip for a word in a section, or NULL. */
const struct brv_slip *brv_slip_find(const char *section, const char *word);

/* The slip of a section's key that somebody wrote at the top, "spot_size", or NULL. */
const struct brv_slip *brv_slip_below(const char *word);

#endif
