#include "scenario/bytes.h"

/* Length of the UTF-8 character at `text`, 0 when it is none. Overlong forms, surrogates and what lies above
 * U+10FFFF are none.                                                                                        */
static size_t character_length(const unsigned char *text, size_t size)
{
    const unsigned first = text[0];
    if (first < 0x80) return 1;
    if (first < 0xC2 || first > 0xF4) return 0;
    const size_t length = first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
    if (length > size) return 0;
    for (size_t i = 1; i < length; i++)
        if ((text[i] & 0xC0u) != 0x80u) return 0;

    const bool overlong = (first == 0xE0 && text[1] < 0xA0) || (first == 0xF0 && text[1] < 0x90);
    const bool surrogate = first == 0xED && text[1] >= 0xA0;
    const bool beyond = first == 0xF4 && text[1] >= 0x90;
    return overlong || surrogate || beyond ? 0 : length;
}

/* What YAML does not take either: ASCII controls but tab and line ends, U+0080 to U+009F but U+0085, U+FFFE, U+FFFF. */
static bool is_control(const unsigned char *text, size_t length)
{
    if (length == 1) return (*text < 0x20 && *text != '\n' && *text != '\r' && *text != '\t') || *text == 0x7F;
    if (length == 2) return text[0] == 0xC2 && text[1] < 0xA0 && text[1] != 0x85;
    return length == 3 && text[0] == 0xEF && text[1] == 0xBF && text[2] >= 0xBE;
}

static bool begins_as_utf16(const unsigned char *text, size_t size)
{
    return size >= 2 && ((text[0] == 0xFF && text[1] == 0xFE) || (text[0] == 0xFE && text[1] == 0xFF));
}

/* A picture or a program rather than a text in another encoding: control bytes beside bytes that are not UTF-8. */
static bool is_binary(const unsigned char *text, size_t size)
{
    bool control = false, foreign = false;
    for (size_t i = 0; i < size;) {
        const size_t length = character_length(text + i, size - i);
        control = control || (length == 1 && is_control(text + i, 1));
        foreign = foreign || length == 0;
        i += length ? length : 1;
    }
    return control && foreign;
}

/* NULL when the character may stand in a file. */
static const char *character_fault(const unsigned char *text, size_t length)
{
    if (length == 0) return "these bytes are not UTF-8 text; save the file as UTF-8";
    return is_control(text, length) ? "a control character stands here; a scenario is a text file" : NULL;
}

/* What is wrong with the whole, when that says more than the first character that is. */
static const char *fault_of_bytes(const unsigned char *text, size_t size, const char *fault)
{
    if (begins_as_utf16(text, size)) return "this text is UTF-16; save the file as UTF-8";
    return is_binary(text, size) ? "this is not a text file" : fault;
}

bool brv_bytes_are_text(const char *file, const char *text, size_t size, struct brv_faults *faults)
{
    const unsigned char *byte = (const unsigned char *)text;
    int line = 1, column = 1;
    for (size_t i = 0; i < size;) {
        const size_t length = character_length(byte + i, size - i);
        const char *fault = character_fault(byte + i, length);
        if (fault) {
            brv_faults_add(faults, file, line, column, "%s", fault_of_bytes(byte, size, fault));
            return false;
        }
        column = byte[i] == '\n' ? 1 : column + 1;
        line += byte[i] == '\n';
        i += length;
    }
    return true;
}
