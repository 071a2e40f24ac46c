package idlewright;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.regex.Pattern;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

/** What a customer complains of is a symptom wherever staff read of it, see docs/words.md. */
@DisplayName("A symptom on screen")
class OneWordTest {

    /** Between tags or in a quoted phrase: followed or led by a blank and a letter, so neither a name in code nor a class. */
    private static final Pattern OTHERWISE = Pattern.compile(
            "(?i)>\\s*(complaints?|threads?)\\s*<|[a-z,] (complaints?|threads?)\\b(?!['\"]?\\s*[:=(]|\\.\\w)|[>'|](complaints?|threads?) [a-z]");

    @Test
    void isNeverCalledAComplaintOrAThread() throws IOException {
        var found = new ArrayList<String>();
        try (var files = Files.walk(Path.of("src/main/resources/templates"))) {
            // The heading over the customer's words on paper is the trade's: complaint, cause, correction.
            for (Path file : files.filter(one -> one.toString().endsWith(".html")
                            && !one.getFileName().toString().startsWith("paper")
                            // The drawn line is a thread, and the house keeps it.
                            && !one.endsWith("frame/thread.html")
                            && !one.endsWith("frame/layout.html"))
                    .toList()) {
                for (String line : Files.readAllLines(file)) {
                    var matcher = OTHERWISE.matcher(line.replaceAll("(class|th:each|th:classappend)=\"[^\"]*\"", "")
                            .replaceAll("<!--.*?-->", ""));
                    if (matcher.find()) {
                        found.add(file.getFileName() + ": " + matcher.group());
                    }
                }
            }
        }
        assertThat(found).isEmpty();
    }
}
