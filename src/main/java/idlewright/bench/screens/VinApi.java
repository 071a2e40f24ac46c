package idlewright.bench.screens;

import com.fasterxml.jackson.annotation.JsonInclude;
import idlewright.people.ByKey;
import idlewright.reference.vin.Vin;
import java.time.Clock;
import java.time.Year;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RestController;

/** Says what a vehicle identification number says; a wrong one is answered too, with what is wrong. */
@RestController
@ByKey
class VinApi {

    private final Clock clock;

    VinApi(Clock clock) {
        this.clock = clock;
    }

    @JsonInclude
    record VinAnswer(
            String vin,
            boolean wellFormed,
            @Nullable CheckDigit checkDigit,
            List<Integer> modelYears,
            @Nullable String region,
            List<String> problems) {}

    @JsonInclude
    record CheckDigit(
            boolean applies,
            String expected,
            String found,
            @Nullable Boolean ok) {}

    @GetMapping("/api/vin/{vin}")
    VinAnswer check(@PathVariable String vin) {
        // Next year's models are sold this year.
        Vin read = Vin.check(vin, Year.now(clock).plusYears(1));
        Vin.CheckDigit digit = read.checkDigit();
        Vin.Region region = read.region();
        return new VinAnswer(
                read.vin(),
                read.wellFormed(),
                digit == null ? null : new CheckDigit(digit.applies(), digit.expected(), digit.found(), digit.ok()),
                read.modelYears(),
                region == null ? null : region.words(),
                read.problems());
    }
}
