//! Photographs: kept once, found by name and by what they hold, and gone with the last quilt that knows them.

mod places;

use places::everywhere;
use seamfall_store::NewPhoto;

fn photo<'a>(name: &'a str, hash: &'a str, bytes: &'a [u8]) -> NewPhoto<'a> {
    NewPhoto { name, hash, bytes, luminance: 0.25 }
}

#[test]
fn a_photograph_is_kept_once_and_a_name_keeps_its_picture() {
    everywhere(|home| {
        let store = home.open();
        let (one, two) = (store.create("one", "").unwrap(), store.create("two", "").unwrap());
        assert_eq!(store.keep_photo(one, photo("moss.jpg", "aa", b"moss")).unwrap(), "moss.jpg");
        assert_eq!(store.keep_photo(one, photo("moss.jpg", "bb", b"other")).unwrap(), "moss-2.jpg");
        assert_eq!(store.keep_photo(one, photo("moss.jpg", "aa", b"moss")).unwrap(), "moss.jpg");
        assert_eq!(store.keep_photo(two, photo("green.jpg", "aa", b"moss")).unwrap(), "green.jpg");
        let names: Vec<_> = store.photos(one).unwrap().into_iter().map(|each| (each.name, each.hash)).collect();
        assert_eq!(names, [("moss-2.jpg".to_owned(), "bb".to_owned()), ("moss.jpg".to_owned(), "aa".to_owned())]);
        store.remove(one).unwrap();
        assert_eq!(store.photo("aa").unwrap().as_deref(), Some(&b"moss"[..]));
        assert_eq!(store.photo("bb").unwrap(), None);
        store.remove(two).unwrap();
        assert_eq!(store.photo("aa").unwrap(), None);
        assert_eq!(store.damage().unwrap(), Vec::<String>::new());
    });
}

#[test]
fn what_is_brought_from_beside_the_file_takes_the_place_of_the_old_one() {
    everywhere(|home| {
        let store = home.open();
        let quilt = store.create("one", "").unwrap();
        store.put_photo(quilt, photo("moss.jpg", "aa", b"moss")).unwrap();
        store.put_photo(quilt, photo("moss.jpg", "bb", b"moss again")).unwrap();
        assert_eq!(store.photos(quilt).unwrap()[0].hash, "bb");
        assert_eq!(store.photo("aa").unwrap(), None, "nobody knows it any more");
        assert!(store.put_photo(seamfall_store::QuiltId(99), photo("a", "cc", b"")).is_err());
    });
}
