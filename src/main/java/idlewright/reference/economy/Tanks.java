package idlewright.reference.economy;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Spans from one full tank to the next: what was filled after the first full tank, up to and with the second, is what the
 * distance between them took. Exact up to how full "full" is; see {@link Change}.
 */
public record Tanks(List<Consumption> spans) {

    public Tanks {
        spans = List.copyOf(spans);
    }

    /**
     * Works the spans out of fill-ups in the order they were made. Partial fills count into the span they fall in; those
     * before the first and after the last full tank close nothing and are left out.
     *
     * @throws IllegalArgumentException when the odometer does not rise
     */
    public static Tanks of(List<FillUp> fillUps) {
        List<Consumption> spans = new ArrayList<>();
        FillUp opened = null;
        double litres = 0;
        FillUp last = null;
        for (FillUp fillUp : fillUps) {
            if (last != null && fillUp.odometerKm() <= last.odometerKm()) {
                throw new IllegalArgumentException(
                        "the odometer must rise from fill-up to fill-up, but %.1f km follows %.1f km"
                                .formatted(fillUp.odometerKm(), last.odometerKm()));
            }
            last = fillUp;
            litres += fillUp.litres();
            if (fillUp.full()) {
                if (opened != null) {
                    spans.add(new Consumption(fillUp.odometerKm() - opened.odometerKm(), litres));
                }
                opened = fillUp;
                litres = 0;
            }
        }
        return new Tanks(spans);
    }

    /** All spans together, weighted by distance; nothing without two full tanks. */
    public Optional<Consumption> total() {
        return spans.stream().reduce(Consumption::plus);
    }
}
