package idlewright.intake.model;

import java.util.Optional;
import org.springframework.data.repository.Repository;

/** The tickets as rows; the plural itself is the name of the front door. */
public interface TicketRows extends Repository<Ticket, Integer> {

    Ticket saveAndFlush(Ticket ticket);

    Optional<Ticket> findById(Integer number);
}
