package idlewright.reference.obd.log;

import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.Charset;
import java.nio.charset.CharsetDecoder;
import java.nio.charset.CoderResult;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;

/** The character set of a log, told from its first bytes, and how many of them are a byte order mark. */
record Encoding(Charset charset, int markLength) {

    /** Latin-1 with the printable characters Windows tools put between 80h and 9Fh. */
    private static final Charset WESTERN =
            Charset.isSupported("windows-1252") ? Charset.forName("windows-1252") : StandardCharsets.ISO_8859_1;

    static Encoding of(byte[] head) {
        if (starts(head, 0xEF, 0xBB, 0xBF)) {
            return new Encoding(StandardCharsets.UTF_8, 3);
        }
        if (starts(head, 0xFF, 0xFE)) {
            return new Encoding(StandardCharsets.UTF_16LE, 2);
        }
        if (starts(head, 0xFE, 0xFF)) {
            return new Encoding(StandardCharsets.UTF_16BE, 2);
        }
        int looked = Math.min(head.length, 4096) & ~1;
        int evenZeros = 0;
        int oddZeros = 0;
        for (int i = 0; i < looked; i += 2) {
            evenZeros += head[i] == 0 ? 1 : 0;
            oddZeros += head[i + 1] == 0 ? 1 : 0;
        }
        if (oddZeros > looked / 2 * 0.8 && evenZeros < looked / 2 * 0.1) {
            return new Encoding(StandardCharsets.UTF_16LE, 0);
        }
        if (evenZeros > looked / 2 * 0.8 && oddZeros < looked / 2 * 0.1) {
            return new Encoding(StandardCharsets.UTF_16BE, 0);
        }
        return new Encoding(isUtf8(head) ? StandardCharsets.UTF_8 : WESTERN, 0);
    }

    private static boolean starts(byte[] head, int... mark) {
        if (head.length < mark.length) {
            return false;
        }
        for (int i = 0; i < mark.length; i++) {
            if ((head[i] & 0xFF) != mark[i]) {
                return false;
            }
        }
        return true;
    }

    /** A character cut off by the end of the head is no error. */
    private static boolean isUtf8(byte[] head) {
        CharsetDecoder decoder = StandardCharsets.UTF_8
                .newDecoder()
                .onMalformedInput(CodingErrorAction.REPORT)
                .onUnmappableCharacter(CodingErrorAction.REPORT);
        ByteBuffer bytes = ByteBuffer.wrap(head);
        CharBuffer sink = CharBuffer.allocate(8192);
        CoderResult result = CoderResult.OVERFLOW;
        while (result.isOverflow()) {
            sink.clear();
            result = decoder.decode(bytes, sink, false);
        }
        return !result.isError();
    }
}
