package idlewright.reference.obd.log;

import java.io.IOException;
import java.io.Reader;

/**
 * Lines as ranges of one buffer. A line longer than the buffer is skipped and reported, so that no input can grow the
 * memory. Lines end with LF, CR LF or CR alone.
 */
final class Lines {
    /** Characters in one line. */
    static final int LONGEST = 1 << 16;

    private final Reader reader;
    final char[] text;
    int from;
    int to;
    long number;
    boolean tooLong;

    private int filled;
    private int next;
    private boolean ended;

    Lines(Reader reader) {
        this(reader, LONGEST);
    }

    Lines(Reader reader, int longest) {
        this.reader = reader;
        this.text = new char[longest + 2];
    }

    boolean advance() throws IOException {
        tooLong = false;
        from = next;
        int scan = next;
        while (true) {
            while (scan < filled) {
                char c = text[scan];
                if (c == '\n' || c == '\r') {
                    if (c == '\r' && scan + 1 == filled && !ended) {
                        break;
                    }
                    finish(scan);
                    next = c == '\r' && scan + 1 < filled && text[scan + 1] == '\n' ? scan + 2 : scan + 1;
                    return true;
                }
                scan++;
            }
            if (ended) {
                if (from >= filled && !tooLong) {
                    return false;
                }
                finish(filled);
                next = filled;
                return true;
            }
            int kept = filled - from;
            if (kept > text.length - 2) {
                tooLong = true;
                // A CR at the very end stays, because its LF may follow.
                kept = text[filled - 1] == '\r' ? 1 : 0;
                scan = filled - kept;
                from = scan;
            }
            System.arraycopy(text, from, text, 0, kept);
            scan -= from;
            from = 0;
            filled = kept;
            int got = reader.read(text, filled, text.length - filled);
            if (got < 0) {
                ended = true;
            } else {
                filled += got;
            }
        }
    }

    private void finish(int end) {
        to = tooLong ? from : end;
        number++;
    }
}
