package idlewright.people.model;

import java.util.Optional;
import org.springframework.data.repository.Repository;

/** The bay's browsers. */
public interface BayTerminals extends Repository<BayTerminal, Long> {

    BayTerminal saveAndFlush(BayTerminal terminal);

    Optional<BayTerminal> findById(long id);

    Optional<BayTerminal> findByTokenHash(byte[] hash);

    boolean existsByNameIgnoreCaseAndRetiredAtIsNull(String name);
}
