package idlewright.reference.obd.log;

/**
 * The fields of one line as trimmed ranges.
 *
 * <p>Quotes are resolved inside a line only. A full RFC 4180 reader takes everything after one stray quote for a single
 * field; scan tools write no line breaks inside fields, so a quote that does not close is a plain character here.
 */
final class Fields {
    /** Fields in one line; a line with more is a bad line. */
    static final int MOST = 512;

    final int[] start = new int[MOST];
    final int[] end = new int[MOST];
    int count;
    boolean tooMany;

    private final char delimiter;

    Fields(char delimiter) {
        this.delimiter = delimiter;
    }

    void split(char[] text, int from, int to) {
        count = 0;
        tooMany = false;
        int at = from;
        while (true) {
            int begin = at;
            while (begin < to && isSpace(text[begin]) && text[begin] != delimiter) {
                begin++;
            }
            int stop = -1;
            int after = -1;
            if (begin < to && text[begin] == '"') {
                after = closed(text, begin + 1, to);
            }
            if (after >= 0) {
                stop = after;
                begin++;
                while (text[--stop] != '"') {
                    // back over the spaces between the closing quote and the delimiter
                }
                after = after < to ? after : -1;
            } else {
                stop = begin;
                while (stop < to && text[stop] != delimiter) {
                    stop++;
                }
                after = stop < to ? stop : -1;
            }
            while (begin < stop && isSpace(text[begin])) {
                begin++;
            }
            while (stop > begin && isSpace(text[stop - 1])) {
                stop--;
            }
            if (count == MOST) {
                tooMany = true;
                return;
            }
            start[count] = begin;
            end[count] = stop;
            count++;
            if (after < 0) {
                return;
            }
            at = after + 1;
        }
    }

    /** Where the delimiter or the end after the closing quote is; -1 when the quote does not close a field. */
    private int closed(char[] text, int from, int to) {
        for (int i = from; i < to; i++) {
            if (text[i] != '"') {
                continue;
            }
            if (i + 1 < to && text[i + 1] == '"') {
                i++;
                continue;
            }
            int after = i + 1;
            while (after < to && isSpace(text[after]) && text[after] != delimiter) {
                after++;
            }
            return after == to || text[after] == delimiter ? after : -1;
        }
        return -1;
    }

    boolean blank(int field) {
        return start[field] == end[field];
    }

    /** The field as text, with doubled quotes made single. */
    String text(char[] text, int field) {
        String raw = new String(text, start[field], end[field] - start[field]);
        return raw.indexOf('"') < 0 ? raw : raw.replace("\"\"", "\"");
    }

    /** Spaces, tabs, NUL and the other control characters that broken loggers leave. */
    static boolean isSpace(char c) {
        return c <= ' ' || c == '\u00a0' || c == '\ufeff';
    }
}
