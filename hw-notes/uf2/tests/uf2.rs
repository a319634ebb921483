//! A program as the linker would make it, and what becomes of it.

use tellmark_uf2::{Trouble, sectors, uf2};

/// An ELF file with these stretches: address and bytes.
fn elf(stretches: &[(u32, &[u8])]) -> Vec<u8> {
    let mut file = vec![0; 52];
    file[..6].copy_from_slice(b"\x7fELF\x01\x01");
    file[18] = 40;
    file[28] = 52;
    file[42] = 32;
    file[44] = u8::try_from(stretches.len()).unwrap();
    let mut offset = u32::try_from(52 + 32 * stretches.len()).unwrap();
    for (address, bytes) in stretches {
        let length = u32::try_from(bytes.len()).unwrap();
        for word in [1, offset, 0x2000_0000, *address, length, length, 5, 4] {
            file.extend(word.to_le_bytes());
        }
        offset += length;
    }
    for (_, bytes) in stretches {
        file.extend(*bytes);
    }
    file
}

#[test]
fn each_block_says_where_it_goes_and_sectors_are_filled_up() {
    let program = elf(&[
        (0x1000_0000, &[1; 300]),
        (0x1000_0ffe, &[2; 4]),
        (0x1008_0000, &[3]),
    ]);
    let sectors = sectors(&program).unwrap();
    let starts: Vec<u32> = sectors.keys().copied().collect();
    assert_eq!(starts, [0x1000_0000, 0x1000_1000, 0x1008_0000]);
    let first = &sectors[&0x1000_0000];
    assert_eq!((first[299], first[300]), (1, 0xff));
    assert_eq!(first[0xffe..], [2, 2]);
    assert_eq!(sectors[&0x1000_1000][..3], [2, 2, 0xff]);

    let file = uf2(&sectors);
    let blocks: Vec<&[u8]> = file.chunks(512).collect();
    assert_eq!(blocks.len(), 3 * 16);
    let word =
        |block: &[u8], at: usize| u32::from_le_bytes(block[4 * at..4 * at + 4].try_into().unwrap());
    for (number, block) in (0..).zip(&blocks) {
        assert_eq!(word(block, 0), 0x0a32_4655);
        assert_eq!(word(block, 1), 0x9e5d_5157);
        assert_eq!(word(block, 2), 0x2000, "it says whose it is");
        assert_eq!(word(block, 4), 256);
        assert_eq!((word(block, 5), word(block, 6)), (number, 48));
        assert_eq!(word(block, 7), 0xe48b_ff56, "the RP2040's");
        assert_eq!(word(block, 127), 0x0ab1_6f30);
        let (at, page) = (word(block, 3), &block[32..288]);
        let sector = &sectors[&(at - at % 4096)];
        let within = usize::try_from(at % 4096).unwrap();
        assert_eq!(page, &sector[within..within + 256]);
    }
}

#[test]
fn what_is_no_program_for_flash_is_refused() {
    assert_eq!(sectors(b"\x7fEL"), Err(Trouble::NotElf));
    assert_eq!(sectors(&elf(&[])), Err(Trouble::Empty));
    let in_ram = elf(&[(0x2000_0000, &[1])]);
    assert_eq!(sectors(&in_ram), Err(Trouble::NotFlash(0x2000_0000)));
    let over_the_end = elf(&[(0x10ff_ffff, &[1, 2])]);
    assert_eq!(sectors(&over_the_end), Err(Trouble::NotFlash(0x10ff_ffff)));
    let whole = elf(&[(0x1000_0000, &[1; 100])]);
    for length in 0..whole.len() {
        let cut = sectors(&whole[..length]);
        assert!(cut.is_err(), "{length} of {} bytes: {cut:?}", whole.len());
    }
}
