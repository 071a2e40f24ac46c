package idlewright.reference.obd;

import idlewright.reference.codes.CodeBook;
import idlewright.reference.codes.TroubleCode;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * What an answer says.
 *
 * @param response the text as it came
 * @param service two hexadecimal digits of the request ("01" for an answer 41), empty when none could be read
 * @param pid two hexadecimal digits, for services that have one
 * @param name what it is about, in words
 * @param problem what is wrong with the answer, naming the byte; what could be read stands beside it
 */
public record Decoded(
        String response,
        String service,
        @Nullable String pid,
        String name,
        List<Value> values,
        List<TroubleCode> codes,
        Optional<Readiness> readiness,
        @Nullable String problem) {

    public Decoded {
        values = List.copyOf(values);
        codes = List.copyOf(codes);
    }

    /** The codes with their meanings, as far as the book has them. */
    public List<CodeBook.Entry> explainedCodes() {
        return codes.stream().map(CodeBook::explain).toList();
    }
}
