package idlewright.people.model;

import java.util.List;
import java.util.Optional;
import org.springframework.data.repository.Repository;

/** The programs' keys. */
public interface Keys extends Repository<Key, Long> {

    Key saveAndFlush(Key key);

    Optional<Key> findById(long id);

    Optional<Key> findByKeyHash(byte[] hash);

    List<Key> findByMadeByAndRetiredAtIsNull(long person);

    boolean existsByNameIgnoreCaseAndRetiredAtIsNull(String name);
}
