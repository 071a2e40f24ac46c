package idlewright.intake;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What is still promised on a vehicle from earlier work. A later room knows; the counter asks as soon as it has the vehicle
 * before it, and never looks ahead.
 */
public interface StillPromised {

    /**
     * One thing that was promised.
     *
     * @param ticket the visit it comes from; null where no visit does
     * @param by who promised it
     * @param until when it ends, by day and by odometer
     */
    record Promised(@Nullable TicketNumber ticket, String what, String by, boolean covered, String until) {}

    /**
     * As it stands today; what is covered first, the newest first.
     *
     * @param last the odometer that was read last; null where none was
     */
    List<Promised> of(VehicleView vehicle, TicketView.@Nullable Distance last);
}
