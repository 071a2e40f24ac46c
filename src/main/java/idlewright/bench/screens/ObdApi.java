package idlewright.bench.screens;

import com.fasterxml.jackson.annotation.JsonInclude;
import idlewright.people.ByKey;
import idlewright.reference.obd.Decoded;
import idlewright.reference.obd.Obd;
import idlewright.reference.obd.Readiness;
import jakarta.servlet.http.HttpServletRequest;
import java.io.IOException;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RestController;

/** Decodes answers of the diagnostic link, each for itself: a bad one tells its problem, the others still decode. */
@RestController
@ByKey
class ObdApi {

    @JsonInclude
    record Answer(
            String response,
            @Nullable String pid,
            String name,
            List<Figure> values,
            @Nullable String problem) {}

    /** The value is a number in its unit, or a text with an empty unit. */
    record Figure(String name, Object value, String unit) {}

    @PostMapping("/api/obd/decode")
    List<Answer> decode(HttpServletRequest request) throws IOException {
        Sent sent = Sent.by(request);
        List<String> responses = sent.texts("responses");
        sent.done();
        return responses.stream().map(Obd::decode).map(ObdApi::answer).toList();
    }

    private static Answer answer(Decoded decoded) {
        List<Figure> figures = new ArrayList<>();
        decoded.values().forEach(value -> figures.add(new Figure(value.name(), value.value(), value.unit())));
        decoded.readiness().ifPresent(readiness -> monitors(readiness, figures));
        decoded.codes().forEach(code -> figures.add(new Figure("code", code.text(), "")));
        return new Answer(decoded.response(), decoded.pid(), decoded.name(), figures, decoded.problem());
    }

    private static void monitors(Readiness readiness, List<Figure> figures) {
        figures.add(new Figure("warning lamp", readiness.lamp() ? "on" : "off", ""));
        figures.add(new Figure("stored codes", BigDecimal.valueOf(readiness.codeCount()), ""));
        readiness
                .monitors()
                .forEach(monitor -> figures.add(new Figure(
                        monitor.name(),
                        !monitor.supported() ? "not supported" : monitor.complete() ? "complete" : "not complete",
                        "")));
    }
}
