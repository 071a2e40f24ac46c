package idlewright.bench.screens;

import com.fasterxml.jackson.annotation.JsonInclude;
import idlewright.people.ByKey;
import idlewright.reference.stats.Proportion;
import idlewright.reference.stats.Survival;
import jakarta.servlet.http.HttpServletRequest;
import java.io.IOException;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** Small numbers, honestly: a share with its intervals, and how long things last. */
@RestController
@ByKey
@RequestMapping("/api/statistics")
class StatisticsApi {

    record Share(double estimate, double wilsonLow, double wilsonHigh, double exactLow, double exactHigh) {}

    /** The median stays null while more than half last. */
    @JsonInclude
    record Lasting(List<Step> steps, @Nullable Double median) {}

    record Step(double time, int atRisk, double survival, double standardError) {}

    @PostMapping("/proportion")
    Share proportion(HttpServletRequest request) throws IOException {
        Sent sent = Sent.by(request);
        int events = sent.whole("events");
        int n = sent.whole("n");
        sent.must(n >= 1, "n", "n must be 1 or more, but was %d.".formatted(n));
        sent.must(
                events >= 0 && (events <= n || n < 1),
                "events",
                "events must lie between 0 and n, %d, but was %d.".formatted(Math.max(1, n), events));
        sent.done();
        Proportion share = Sent.refusingNonsense(() -> Proportion.of(events, n));
        return new Share(share.estimate(), share.wilsonLow(), share.wilsonHigh(), share.exactLow(), share.exactHigh());
    }

    @PostMapping("/survival")
    Lasting survival(HttpServletRequest request) throws IOException {
        Sent sent = Sent.by(request);
        double[] times = sent.numbers("times");
        boolean[] observed = sent.flags("observed");
        sent.done();
        Survival curve = Sent.refusingNonsense(() -> Survival.of(times, observed));
        var median = curve.median();
        return new Lasting(
                curve.steps().stream()
                        .map(step -> new Step(step.time(), step.atRisk(), step.survival(), step.standardError()))
                        .toList(),
                median.isEmpty() ? null : (Double) median.getAsDouble());
    }
}
