package idlewright.frame;

import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Small turns of words for templates, as {@code @words}. */
@Component("words")
public class Words {

    /** Options whose value is what is shown. */
    public Map<String, String> same(List<String> choices) {
        var options = new LinkedHashMap<String, String>();
        choices.forEach(choice -> options.put(choice, choice));
        return options;
    }

    /** Several answers kept in one line, taken apart again. */
    public List<String> split(@Nullable String kept) {
        return kept == null ? List.of() : Arrays.asList(kept.split(", "));
    }

    /** A submission key of its own, for each of several forms on one page. */
    public String key() {
        return java.util.UUID.randomUUID().toString();
    }

    /** "1 row", "3 rows". */
    public String count(long n, String one, String many) {
        return n + " " + (n == 1 ? one : many);
    }
}
