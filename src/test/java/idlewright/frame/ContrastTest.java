package idlewright.frame;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Contrast by WCAG 2.2, success criteria 1.4.3 (4.5:1) and 1.4.11 (3:1); the bay keeps 7:1 as 1.4.6 asks. */
@DisplayName("Tints")
class ContrastTest {

    private static final Path CSS = Path.of("src", "main", "resources", "static", "css");
    private static final Pattern TOKEN = Pattern.compile("--([a-z-]+): light-dark\\((#[0-9a-f]{6}), (#[0-9a-f]{6})\\)");
    private static final List<String> WORDS = List.of("ink", "soft", "thread", "within", "outside", "too-close");

    @ParameterizedTest(name = "are readable at the desk, {0}")
    @CsvSource({"light", "dark"})
    void areReadableAtTheDesk(String scheme) throws IOException {
        Map<String, String> tokens = tokens("tokens.css", scheme);
        check(tokens, 4.5);
        assertThat(ratio(tokens.get("ink"), tokens.get("within-wash"))).isGreaterThanOrEqualTo(4.5);
        assertThat(ratio(tokens.get("within"), tokens.get("within-wash"))).isGreaterThanOrEqualTo(3);
        assertThat(ratio(tokens.get("edge"), tokens.get("sheet")))
                .as("edges of fields")
                .isGreaterThanOrEqualTo(3);
        assertThat(ratio(tokens.get("edge"), tokens.get("ground")))
                .as("edges of fields")
                .isGreaterThanOrEqualTo(3);
    }

    @ParameterizedTest(name = "are readable at arm's length in the bay, {0}")
    @CsvSource({"light", "dark"})
    void areReadableInTheBay(String scheme) throws IOException {
        Map<String, String> tokens = tokens("tokens.css", scheme);
        tokens.putAll(tokens("bay.css", scheme));
        check(tokens, 7);
    }

    private static void check(Map<String, String> tokens, double least) {
        for (String ground : List.of("ground", "sheet")) {
            for (String word : WORDS) {
                assertThat(ratio(tokens.get(word), tokens.get(ground)))
                        .as("%s on %s", word, ground)
                        .isGreaterThanOrEqualTo(least);
            }
        }
        assertThat(ratio(tokens.get("on-thread"), tokens.get("thread")))
                .as("words on a button")
                .isGreaterThanOrEqualTo(least);
        assertThat(ratio(tokens.get("thread-to-come"), tokens.get("ground")))
                .as("the line to come")
                .isGreaterThanOrEqualTo(2);
    }

    private static Map<String, String> tokens(String file, String scheme) throws IOException {
        Map<String, String> tokens = new HashMap<>();
        Matcher found = TOKEN.matcher(Files.readString(CSS.resolve(file)));
        while (found.find()) {
            tokens.put(found.group(1), found.group(scheme.equals("light") ? 2 : 3));
        }
        assertThat(tokens).as(file).isNotEmpty();
        return tokens;
    }

    private static double ratio(String one, String other) {
        double a = luminance(one);
        double b = luminance(other);
        return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    }

    private static double luminance(String hex) {
        int rgb = Integer.parseInt(hex.substring(1), 16);
        return 0.2126 * linear(rgb >> 16) + 0.7152 * linear(rgb >> 8 & 255) + 0.0722 * linear(rgb & 255);
    }

    private static double linear(int channel) {
        double c = channel / 255.0;
        return c <= 0.04045 ? c / 12.92 : Math.pow((c + 0.055) / 1.055, 2.4);
    }
}
